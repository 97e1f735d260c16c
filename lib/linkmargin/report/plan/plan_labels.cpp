#include "linkmargin/report/plan/plan_labels.hpp"

#include "linkmargin/report/drawing/label_layout.hpp"
#include "linkmargin/report/plan/plan_scale.hpp"
#include "linkmargin/report/plan/plan_walls.hpp"
#include "linkmargin/text/display_text.hpp"

#include <algorithm>

namespace linkmargin::plan {
namespace {

constexpr int kLineColumns = 20;

/// How a kind of name is set.
struct LabelStyle {
  const char* colour;
  double font_px;
  bool bold = false;
  bool italic = false;
};

constexpr LabelStyle kRoomStyle{"#4b535d", 12, false, true};
constexpr LabelStyle kHubStyle{kHub, 11.5, true};
constexpr LabelStyle kRepeaterStyle{kRepeater, 11, true};
constexpr LabelStyle kDeviceStyle{kInk, 11};
constexpr LabelStyle kObstacleStyle{kObstacle, 10};
constexpr LabelStyle kFloorOpeningStyle{kFloorOpening, 10};
constexpr LabelStyle kAreaStyle{kArea, 11.5, true};
constexpr LabelStyle kWallStyle{"#5d4a36", 10};
constexpr LabelStyle kOpeningStyle{kDoor, 9};
constexpr LabelStyle kGlazingStyle{kGlazing, 9};

Box2 square(Point2 middle, double half) {
  return {middle - Point2{half, half}, middle + Point2{half, half}};
}

class LabelDrawer {
 public:
  LabelDrawer(const Wording& wording, svg::Writer& out, const Site& site, std::size_t storey,
              const std::vector<WallPiece>& walls, const Frame& frame, const Underlay* underlay)
      : wording_(wording),
        out_(out),
        site_(site),
        index_(storey),
        storey_(site.storeys[storey]),
        walls_(walls),
        frame_(frame),
        underlay_(underlay),
        layout_(frame.labels_px) {}

  int draw() {
    spans_ = opening_spans();
    block_symbols();
    if (site_.north_deg && !frame_.elsewhere) layout_.block(north_box(site_, index_, frame_));
    rooms();
    each_radio(site_.hubs, kHubStyle, kHubPx + 3);
    each_radio(site_.repeaters, kRepeaterStyle, kHubPx + 4);
    each_radio(site_.devices, kDeviceStyle, kDevicePx + 3);
    if (underlay_ != nullptr) planned();
    if (underlay_ == nullptr) {
      obstacles();
      floor_openings();
    }
    areas();
    if (underlay_ == nullptr) {
      traced_walls();
      openings();
    }
    return left_out_;
  }

 private:
  void block_symbols() {
    const auto block = [&](const auto& radios, double half) {
      for (const auto& radio : radios) {
        if (is_here(radio.place)) layout_.block(square(frame_.at(radio.place.at), half));
      }
    };
    block(site_.hubs, kHubPx + 1);
    block(site_.repeaters, kHubPx + 2);
    block(site_.devices, kDevicePx + 1.5);
    if (underlay_ != nullptr) {
      for (const PlannedStation& planned : underlay_->planned) {
        if (is_here(planned.place)) layout_.block(square(frame_.at(planned.place.at), kHubPx + 5));
      }
    }
    for (const WallPiece& piece : walls_) {
      const Segment2 line{frame_.at(piece.line.a), frame_.at(piece.line.b)};
      layout_.discourage(line, thickness_px(piece, frame_) / 2);
    }
    for (const OpeningSpan& span : spans_) layout_.discourage(span.line, span.half_px);
    for (const Obstacle& obstacle : storey_.obstacles) {
      const Box2 box = bounding_box(obstacle.corners);
      const Point2 upper_left = frame_.at({box.min.x, box.max.y});
      layout_.discourage(Box2{upper_left, frame_.at({box.max.x, box.min.y})});
    }
  }

  bool is_here(const Placement& place) const { return place.storey == index_ && frame_.holds(place.at); }

  std::vector<std::string> lines_of(const std::string& name) const {
    return wrapped(printable(name), kLineColumns);
  }

  bool try_label(const LabelRequest& request, const LabelStyle& style) {
    const auto label = layout_.place(request);
    if (!label) return false;
    if (label->leader) {
      out_.element("line", {{"x1", svg::px(label->leader->a.x)},
                            {"y1", svg::px(label->leader->a.y)},
                            {"x2", svg::px(label->leader->b.x)},
                            {"y2", svg::px(label->leader->b.y)},
                            {"stroke", style.colour},
                            {"stroke-width", "0.7"}});
    }
    if (!style.italic || underlay_ != nullptr) backing(label->box);
    set_lines(request, *label, style);
    return true;
  }

  /// Keeps a name legible over lines.
  void backing(const Box2& box) {
    out_.element("rect", {{"x", svg::px(box.min.x)},
                          {"y", svg::px(box.min.y)},
                          {"width", svg::px(box.max.x - box.min.x)},
                          {"height", svg::px(box.max.y - box.min.y)},
                          {"rx", "2"},
                          {"fill", "#ffffff"},
                          {"fill-opacity", underlay_ == nullptr ? "0.72" : "0.86"}});
  }

  /// Towards the anchor, so that a name stands close to what it names however wide the reader's font is.
  void set_lines(const LabelRequest& request, const PlacedLabel& label, const LabelStyle& style) {
    const double middle = (label.box.min.x + label.box.max.x) / 2;
    const bool to_the_right = label.box.min.x >= request.anchor.x;
    const bool to_the_left = label.box.max.x <= request.anchor.x;
    const double x = to_the_right ? label.box.min.x + 1.5 : to_the_left ? label.box.max.x - 1.5 : middle;
    const char* align = to_the_right ? "start" : to_the_left ? "end" : "middle";
    double y = label.box.min.y + 1.5 + 0.92 * request.font_px;
    for (const std::string& line : request.lines) {
      out_.text({x, y}, line,
                {{"fill", style.colour},
                 {"font-size", svg::px(request.font_px)},
                 {"font-weight", style.bold ? "bold" : "normal"},
                 {"font-style", style.italic ? "italic" : "normal"},
                 {"text-anchor", align}});
      y += kLineSpacing * request.font_px;
    }
  }

  void label(LabelRequest request, const LabelStyle& style) {
    request.font_px = style.font_px;
    if (!try_label(request, style)) ++left_out_;
  }

  void rooms() {
    for (const Room& room : storey_.rooms) {
      if (!frame_.holds(label_point(room.corners))) continue;
      std::vector<Point2> corners;
      for (const Point2 p : room.corners) corners.push_back(frame_.at(p));
      const Box2 box = bounding_box(room.corners);
      const Point2 size_m = room.clear_m.value_or(box.max - box.min);
      LabelRequest request{.lines = lines_of(room.name),
                           .anchor = frame_.at(label_point(room.corners)),
                           .clearance_px = 0,
                           .centred = true,
                           .reach_px = 400,
                           .allowed = {}};
      request.allowed = [&corners](const Box2& text) {
        return contains(corners, text.min) && contains(corners, text.max) &&
               contains(corners, {text.min.x, text.max.y}) && contains(corners, {text.max.x, text.min.y});
      };
      const Language& language = wording_.language();
      const bool in_feet = language.length_unit() == LengthUnit::foot;
      const std::string size = (in_feet ? language.length(size_m.x) : wording_.number(size_m.x, 2)) +
                               " \u00D7 " + language.length(size_m.y, 2);
      LabelRequest with_size = request;
      with_size.lines.push_back(size);
      with_size.font_px = kRoomStyle.font_px - 1;
      request.font_px = kRoomStyle.font_px;
      if (underlay_ == nullptr && try_label(with_size, kRoomStyle)) continue;
      if (try_label(request, kRoomStyle)) continue;
      request.font_px = 9;
      if (try_label(request, kRoomStyle)) continue;
      request.allowed = {};
      request.centred = false;
      request.reach_px = 120;
      if (!try_label(request, kRoomStyle)) ++left_out_;
    }
  }

  std::vector<std::string> radio_lines(const std::string& name) const {
    std::vector<std::string> lines = lines_of(name);
    if (underlay_ == nullptr) return lines;
    const auto mark = underlay_->devices.find(name);
    if (mark != underlay_->devices.end()) lines.push_back(mark->second.figure);
    return lines;
  }

  /// Where the symbol of a device leads on a page; empty: nowhere.
  std::string link_of(const std::string& name) const {
    if (underlay_ == nullptr) return {};
    const auto mark = underlay_->devices.find(name);
    return mark == underlay_->devices.end() ? std::string() : mark->second.link;
  }

  template <typename Radio>
  void each_radio(const std::vector<Radio>& radios, const LabelStyle& style, double clearance_px) {
    for (const Radio& radio : radios) {
      if (!is_here(radio.place)) continue;
      const std::string link = link_of(radio.name);
      const bool station = underlay_ != nullptr && !std::is_same_v<Radio, Device>;
      if (!link.empty()) out_.open("g", {{"class", "label"}, {"data-of", link}});
      if (station) out_.open("g", {{"data-station-name", radio.name}});
      label({.lines = radio_lines(radio.name),
             .anchor = frame_.at(radio.place.at),
             .clearance_px = clearance_px,
             .reach_px = 200,
             .allowed = {}},
            style);
      if (!link.empty() || station) out_.close("g");
    }
  }

  void planned() {
    for (const PlannedStation& planned : underlay_->planned) {
      if (!is_here(planned.place)) continue;
      label({.lines = lines_of(planned.name),
             .anchor = frame_.at(planned.place.at),
             .clearance_px = kHubPx + 6,
             .reach_px = 200,
             .allowed = {}},
            planned.is_hub ? kHubStyle : kRepeaterStyle);
    }
  }

  void obstacles() {
    for (const Obstacle& obstacle : storey_.obstacles) {
      if (!frame_.holds(label_point(obstacle.corners))) continue;
      const Box2 box = bounding_box(obstacle.corners);
      const double half_px = 0.5 * std::min(box.max.x - box.min.x, box.max.y - box.min.y) * frame_.px_per_m;
      label({.lines = lines_of(obstacle.name),
             .anchor = frame_.at(label_point(obstacle.corners)),
             .clearance_px = half_px + 2,
             .reach_px = 120,
             .allowed = {}},
            kObstacleStyle);
    }
  }

  void floor_openings() {
    for (const FloorOpening& opening : storey_.floor_openings) {
      if (!frame_.holds(label_point(opening.corners))) continue;
      label({.lines = lines_of(opening.name),
             .anchor = frame_.at(label_point(opening.corners)),
             .clearance_px = 0,
             .centred = true,
             .reach_px = 160,
             .allowed = {}},
            kFloorOpeningStyle);
    }
  }

  void areas() {
    for (const Area& area : site_.areas) {
      if (area.storey != index_ || !frame_.shows(area.corners)) continue;
      label({.lines = lines_of(area.name),
             .anchor = frame_.at(label_point(area.corners)),
             .clearance_px = 0,
             .centred = true,
             .reach_px = 300,
             .allowed = {}},
            kAreaStyle);
    }
  }

  void traced_walls() {
    for (const TracedWall& wall : storey_.walls) {
      if (!frame_.holds(at_fraction(wall.line, 0.5))) continue;
      std::vector<std::string> lines = lines_of(wall.name);
      if (wall.height_m)
        lines.push_back(wording_.say("sign.high", {{"height", wording_.language().length(*wall.height_m)}}));
      label({.lines = lines,
             .anchor = frame_.at(at_fraction(wall.line, 0.5)),
             .clearance_px = 6,
             .reach_px = 120,
             .allowed = {}},
            kWallStyle);
    }
  }

  void openings() {
    for (const OpeningSpan& span : spans_) {
      if (!span.here) continue;
      const Opening& opening = storey_.openings[span.opening];
      const bool glazed = opening.sill_m > 0 || !opening.opens;
      label({.lines = lines_of(opening.name),
             .anchor = at_fraction(span.line, 0.5),
             .clearance_px = span.half_px + 5,
             .reach_px = 80,
             .allowed = {}},
            glazed ? kGlazingStyle : kOpeningStyle);
    }
  }

  /// An opening on the sheet.
  struct OpeningSpan {
    std::size_t opening = 0;
    Segment2 line;
    double half_px = 0;
    bool here = true;  ///< whether its name is
  };

  std::vector<OpeningSpan> opening_spans() const {
    std::vector<OpeningSpan> spans;
    for (std::size_t i = 0; i < storey_.openings.size(); ++i) {
      const auto place = locate_opening(walls_, storey_, i);
      if (!place) continue;
      const WallPiece& wall = walls_[place->piece];
      spans.push_back(
          {i,
           {frame_.at(at_fraction(wall.line, place->from)), frame_.at(at_fraction(wall.line, place->to))},
           thickness_px(wall, frame_) / 2,
           frame_.holds(at_fraction(wall.line, 0.5 * (place->from + place->to)))});
    }
    return spans;
  }

  const Wording& wording_;
  svg::Writer& out_;
  const Site& site_;
  std::size_t index_;
  const Storey& storey_;
  const std::vector<WallPiece>& walls_;
  const Frame& frame_;
  const Underlay* underlay_;
  LabelLayout layout_;
  std::vector<OpeningSpan> spans_;
  int left_out_ = 0;
};

}  // namespace

int draw_labels(const Wording& wording, svg::Writer& out, const Site& site, std::size_t storey,
                const std::vector<WallPiece>& walls, const Frame& frame, const Underlay* underlay) {
  return LabelDrawer(wording, out, site, storey, walls, frame, underlay).draw();
}

}  // namespace linkmargin::plan
