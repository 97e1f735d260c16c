#include "linkmargin/report/plan/plan_drawing.hpp"

#include "linkmargin/report/plan/plan_labels.hpp"
#include "linkmargin/report/plan/plan_walls.hpp"

#include <algorithm>
#include <array>

namespace linkmargin::plan {
namespace {

constexpr double kFingerPx = 16;
constexpr const char* kSmallOpacity = "0.8";  // of a small plan beside a large one

/// Pale, neutral, and next to each other still apart.
constexpr std::array<const char*, 4> kRoomTones{"#f4f1ea", "#ecf0f2", "#f0f2e8", "#f3edf0"};

class StoreyDrawer {
 public:
  StoreyDrawer(const Wording& wording, svg::Writer& out, const Site& site, std::size_t storey,
               const Frame& frame, Signs& signs, const Underlay* underlay)
      : wording_(wording),
        out_(out),
        site_(site),
        index_(storey),
        storey_(site.storeys[storey]),
        walls_(wall_plan(storey_)),
        frame_(frame),
        signs_(signs),
        underlay_(underlay) {}

  int draw() {
    const bool small = frame_.elsewhere.has_value();
    if (!frame_.clip.empty())
      out_.open("g", {{"clip-path", "url(#" + frame_.clip + ")"}, {"opacity", small ? kSmallOpacity : "1"}});
    if (underlay_ != nullptr) {
      signs_.map = true;
      underlay_->draw(out_, frame_);
    } else {
      rooms();
    }
    if (underlay_ != nullptr && underlay_->building) {
      underlay_->building(out_, frame_);
    } else {
      what_stands();
    }
    if (!frame_.clip.empty()) out_.close("g");
    radios();
    return draw_labels(wording_, out_, site_, index_, walls_, frame_, underlay_);
  }

  void what_stands() {
    floor_openings();
    areas();
    if (underlay_ == nullptr) reaches();
    obstacles();
    draw_walls(wording_, out_, site_, storey_, walls_, frame_, signs_, underlay_ != nullptr);
  }

  void draw_building() {
    rooms();
    floor_openings();
    obstacles();
    std::vector<WallPiece> walls = walls_;
    std::erase_if(walls,
                  [&](const WallPiece& piece) { return !frame_.world.meets(bounding_box(piece.line)); });
    draw_walls(wording_, out_, site_, storey_, walls, frame_, signs_);
  }

 private:
  bool is_here(const Placement& place) const { return place.storey == index_ && frame_.holds(place.at); }

  bool seen(const Polygon2& corners) const { return frame_.world.meets(bounding_box(corners)); }

  std::vector<Point2> on_sheet(const std::vector<Point2>& corners) const {
    std::vector<Point2> points;
    for (const Point2 p : corners) points.push_back(frame_.at(p));
    return points;
  }

  void rooms() {
    std::size_t tone = 0;
    for (const Room& room : storey_.rooms) {
      const char* paper = kRoomTones[tone++ % kRoomTones.size()];
      if (!seen(room.corners)) continue;
      out_.element("polygon", {{"points", svg::points(on_sheet(room.corners))}, {"fill", paper}}, room.name);
    }
  }

  void floor_openings() {
    for (const FloorOpening& opening : storey_.floor_openings) {
      if (!seen(opening.corners)) continue;
      signs_.floor_opening = true;
      out_.element("polygon",
                   {{"points", svg::points(on_sheet(opening.corners))},
                    {"fill", "#ffffff"},
                    {"fill-opacity", "0.6"},
                    {"stroke", kFloorOpening},
                    {"stroke-width", "1.3"},
                    {"stroke-dasharray", "5 3"}},
                   wording_.say("sign.floor_opening", {{"name", wording_.name(opening.name)}}));
    }
  }

  void areas() {
    for (const Area& area : site_.areas) {
      if (area.storey != index_ || !frame_.shows(area.corners)) continue;
      signs_.area = true;
      out_.element("polygon",
                   {{"points", svg::points(on_sheet(area.corners))},
                    {"fill", kArea},
                    {"fill-opacity", underlay_ == nullptr ? "0.07" : "0"},
                    {"stroke", kArea},
                    {"stroke-width", "1.6"},
                    {"stroke-dasharray", "8 5"}},
                   wording_.say("sign.area", {{"name", wording_.name(area.name)},
                                              {"profile", wording_.name(area.profile)},
                                              {"share", wording_.number(area.share_percent)}}));
    }
  }

  void obstacles() {
    for (const Obstacle& obstacle : storey_.obstacles) {
      if (!seen(obstacle.corners)) continue;
      signs_.obstacle = true;
      out_.element("polygon",
                   {{"points", svg::points(on_sheet(obstacle.corners))},
                    {"fill", "url(#obstacle)"},
                    {"stroke", kObstacle},
                    {"stroke-width", "1.4"}},
                   wording_.say("sign.obstacle",
                                {{"name", wording_.name(obstacle.name)},
                                 {"material", wording_.language().material(obstacle.construction.material)},
                                 {"base", wording_.language().length(obstacle.base_m)},
                                 {"height", wording_.language().length(obstacle.height_m)}}));
    }
  }

  void reach(const std::optional<Mobility>& may_move, Point2 at) {
    if (!may_move) return;
    const auto outline = [&](const char* tag, const std::vector<Point2>& corners) {
      signs_.reach = true;
      out_.element(tag, {{"points", svg::points(on_sheet(corners))},
                         {"fill", "none"},
                         {"stroke", kFaintInk},
                         {"stroke-width", "1"},
                         {"stroke-dasharray", "1.5 3"}});
    };
    if (const auto* radius = std::get_if<Mobility::Radius>(&may_move->reach)) {
      const double r = radius->radius_m * frame_.px_per_m;
      if (r <= kHubPx) return;  // hidden under the symbol
      signs_.reach = true;
      out_.element("circle", {{"cx", svg::px(frame_.at(at).x)},
                              {"cy", svg::px(frame_.at(at).y)},
                              {"r", svg::px(r)},
                              {"fill", "none"},
                              {"stroke", kFaintInk},
                              {"stroke-width", "1"},
                              {"stroke-dasharray", "1.5 3"}});
    } else if (const auto* along = std::get_if<Mobility::Along>(&may_move->reach)) {
      outline("polyline", along->line);
    } else if (const auto* within = std::get_if<Mobility::Within>(&may_move->reach)) {
      outline("polygon", within->corners);
    }
  }

  void reaches() {
    const auto each = [&](const auto& radios) {
      for (const auto& radio : radios) {
        if (radio.place.storey == index_) reach(radio.may_move, radio.place.at);
      }
    };
    each(site_.hubs);
    each(site_.repeaters);
    each(site_.devices);
  }

  template <typename Radio>
  std::string tooltip(const Radio& radio, const DeviceMark* mark = nullptr) const {
    return wording_.say(mark == nullptr ? "sign.radio" : "sign.radio_figure",
                        {{"name", wording_.name(radio.name)},
                         {"profile", wording_.name(radio.profile)},
                         {"height", wording_.language().length(radio.place.height_m)},
                         {"figure", mark == nullptr ? std::string() : mark->figure}});
  }

  /// A symbol that leads somewhere, with room for a finger.
  void open_link(const std::string& name, Point2 at, const DeviceMark& mark) {
    out_.open("a", {{"href", mark.link}, {"class", "spot"}, {"aria-label", name + ": " + mark.figure}});
    out_.element("circle", {{"cx", svg::px(at.x)},
                            {"cy", svg::px(at.y)},
                            {"r", svg::px(kFingerPx)},
                            {"fill", "#ffffff"},
                            {"fill-opacity", "0"}});
  }

  void device_symbol(const Device& device, bool ruled) {
    const Point2 at = frame_.at(device.place.at);
    if (underlay_ != nullptr) {
      if (const auto mark = underlay_->devices.find(device.name); mark != underlay_->devices.end()) {
        const bool leads = !mark->second.link.empty();
        if (leads) open_link(device.name, at, mark->second);
        if (mark->second.weak) {
          signs_.weak_device = true;
          draw_weak_ring(out_, at);
        }
        draw_device(out_, at, ruled, tooltip(device, &mark->second), mark->second.colour);
        if (leads) out_.close("a");
        return;
      }
    }
    draw_device(out_, at, ruled, tooltip(device));
  }

  /// On a map the symbol of a hub or repeater is one thing, so that it can be taken hold of.
  void open_station(const std::string& name) {
    if (underlay_ != nullptr) out_.open("g", {{"class", "station"}, {"data-station", name}});
  }
  void close_station() {
    if (underlay_ != nullptr) out_.close("g");
  }

  void radios() {
    for (const Device& device : site_.devices) {
      if (!is_here(device.place)) continue;
      const auto profile = site_.profiles.find(device.profile);
      const bool ruled = profile != site_.profiles.end() && profile->second.fixed_by_rule;
      (ruled ? signs_.ruled_device : signs_.device) = true;
      device_symbol(device, ruled);
    }
    for (const Repeater& repeater : site_.repeaters) {
      if (!is_here(repeater.place)) continue;
      signs_.repeater = true;
      open_station(repeater.name);
      draw_repeater(out_, frame_.at(repeater.place.at), tooltip(repeater));
      close_station();
    }
    for (const Hub& hub : site_.hubs) {
      if (!is_here(hub.place)) continue;
      signs_.hub = true;
      open_station(hub.name);
      draw_hub(out_, frame_.at(hub.place.at), tooltip(hub));
      close_station();
    }
    if (underlay_ == nullptr) return;
    for (const PlannedStation& planned : underlay_->planned) {
      if (!is_here(planned.place)) continue;
      signs_.planned = true;
      out_.open("g", {{"class", "planned"}});
      draw_planned(out_, frame_.at(planned.place.at), planned.is_hub, planned.stop, planned.name);
      out_.close("g");
    }
  }

  const Wording& wording_;
  svg::Writer& out_;
  const Site& site_;
  std::size_t index_;
  const Storey& storey_;
  std::vector<WallPiece> walls_;
  const Frame& frame_;
  Signs& signs_;
  const Underlay* underlay_;
};

}  // namespace

void draw_over_map(const Wording& wording, svg::Writer& out, const Site& site, std::size_t storey,
                   const Frame& frame, Signs& signs) {
  const Underlay map;
  StoreyDrawer(wording, out, site, storey, frame, signs, &map).what_stands();
}

void draw_building(const Wording& wording, svg::Writer& out, const Site& site, std::size_t storey,
                   const Frame& frame, Signs& signs) {
  StoreyDrawer(wording, out, site, storey, frame, signs, nullptr).draw_building();
}

int draw_storey(const Wording& wording, svg::Writer& out, const Site& site, std::size_t storey,
                const Frame& frame, Signs& signs, const Underlay* underlay) {
  return StoreyDrawer(wording, out, site, storey, frame, signs, underlay).draw();
}

}  // namespace linkmargin::plan
