#include "linkmargin/report/map/placement_map.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/base/range.hpp"
#include "linkmargin/report/drawing/contour.hpp"
#include "linkmargin/report/map/coverage_legend.hpp"
#include "linkmargin/report/map/coverage_picture.hpp"
#include "linkmargin/text/display_text.hpp"
#include "linkmargin/report/drawing/palette.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/report/placement_report.hpp"
#include "linkmargin/report/words/placement_words.hpp"
#include "linkmargin/report/plan/plan_drawing.hpp"
#include "linkmargin/report/plan/plan_legend.hpp"
#include "linkmargin/report/plan/plan_scale.hpp"
#include "linkmargin/report/drawing/png.hpp"
#include "linkmargin/report/drawing/sheet.hpp"
#include "linkmargin/report/drawing/sheet_painter.hpp"
#include "linkmargin/report/drawing/svg.hpp"
#include "linkmargin/site/storey_extent.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

using plan::Frame;

constexpr double kMarginPx = 28;
constexpr double kRulerPx = 26;
constexpr double kRoundM = 1;
constexpr double kTolerancePx = 0.35;
constexpr std::size_t kFieldColours = kMapColours;

class FieldSheet {
 public:
  FieldSheet(const Site& site, const PlacementAnswer& answer) : answer_(answer), site_(site) {
    if (!answer.field || answer.choices.empty()) throw DomainError("there is no field to be drawn");
    if (const auto edited = edited_site(site, answer.choices.front().edits)) site_ = *edited;
    const Box2 box = storey_extent(site_, field().storey);
    world_ = {box.min - Point2{kRoundM, kRoundM}, box.max + Point2{kRoundM, kRoundM}};
    const Point2 size = world_.max - world_.min;
    px_per_m_ = std::clamp(std::min(1000 / size.x, 860 / size.y), 8.0, 80.0);
    width_px_ = std::max(760.0, 2 * kMarginPx + kRulerPx + size.x * px_per_m_);
    for (const ChosenService& service : answer.choices.front().services) {
      marks_[service.name] = {hex_text(map_colour(service.chance)),
                              chance_percent(service.chance) + " in 100" + (service.weak ? ", weak" : ""),
                              service.weak};
    }
  }

  svg::Writer draw() {
    svg::Writer body;
    plan::Signs signs;
    const double top = title(body) + 8;
    const double high_px = (world_.max.y - world_.min.y) * px_per_m_;
    const double wide_px = (world_.max.x - world_.min.x) * px_per_m_;
    const double left = (width_px_ - wide_px + kRulerPx) / 2;
    const Frame frame{.world = world_,
                      .origin_px = {left, top},
                      .px_per_m = px_per_m_,
                      .labels_px = {{left + 3, top + 3}, {left + wide_px - 3, top + high_px - 3}}};
    plan::Underlay underlay{[&](svg::Writer& out) { colours(out, frame); }, marks_};
    plan::draw_grid(body, frame, world_, 0,
                    plan::grid_step_m(px_per_m_, std::max(wide_px, high_px) / px_per_m_),
                    {{left - 4, top}, {left + wide_px, top + high_px + 4}});
    plan::draw_storey(body, site_, field().storey, frame, signs, &underlay);
    double y = legend(body, {kMarginPx, top + high_px + kRulerPx + 16});
    plan::draw_scale_bar(body, {kMarginPx + 8, y + 14}, px_per_m_);
    y = plan::draw_legend(body, signs, {kMarginPx, y + 34}, width_px_ - 2 * kMarginPx);
    y = lines(body, y + 18, flatness_words(site_, answer_), 12, plan::kInk, false);
    y = lines(body, y + 2, placement_advice().front(), 12, plan::kInk, true);
    svg::Writer hatches;
    plan::draw_hatches(hatches);
    return sheet(std::move(hatches), std::move(body), {width_px_, y + 14});
  }

 private:
  const PlacementField& field() const { return *answer_.field; }

  double lines(svg::Writer& out, double y, const std::string& text, double font_px, const char* colour,
               bool bold) const {
    return draw_lines(out, {kMarginPx, y}, width_px_ - 2 * kMarginPx, text, font_px, colour, bold);
  }

  double title(svg::Writer& out) const {
    double y = lines(out, kMarginPx + 14, site_.name, 20, plan::kInk, true);
    y = lines(out, y + 2,
              "Where hub " + quoted_name(field().hub) + " may go on storey " +
                  quoted_name(site_.storeys[field().storey].name) + ", " + shortest_text(field().height_m) +
                  " m over its floor: the least chance of all devices to reach " +
                  shortest_text(answer_.reading.weak_below_percent) + " %.",
              13.5, plan::kInk, false);
    y = lines(out, y,
              shortest_text(mhz_from_hz(answer_.frequency_hz)) +
                  " MHz, held in: " + listed(answer_.cases, 6) + ". " + placement_proof(answer_),
              13.5, plan::kInk, false);
    return y - 6;
  }

  /// Each cell in its colour; white where the hub may not go.
  void colours(svg::Writer& out, const Frame& frame) const {
    const LevelGrid& grid = field().grid;
    auto picture = std::make_shared<IndexedPicture>();
    picture->width = static_cast<std::size_t>(grid.columns);
    picture->height = static_cast<std::size_t>(grid.rows);
    picture->colours = map_colours(kFieldColours);
    picture->colours.push_back({255, 255, 255});
    picture->pixels.resize(grid.size());
    for (std::size_t cell = 0; cell < grid.size(); ++cell) {
      const float worst = field().worst[cell];
      const std::size_t row = picture->height - 1 - cell / picture->width;
      const double colour = std::clamp(static_cast<double>(worst), 0.0, 1.0) * (kFieldColours - 1);
      picture->pixels[row * picture->width + cell % picture->width] =
          static_cast<std::uint8_t>(worst < 0 ? static_cast<long>(kFieldColours) : std::lround(colour));
    }
    const Point2 far_corner = grid.corner + grid.step_m * Point2{1.0 * grid.columns, 1.0 * grid.rows};
    out.image({frame.at({grid.corner.x, far_corner.y}), frame.at({far_corner.x, grid.corner.y})},
              std::move(picture));
    const std::string zone = zone_path(frame);
    if (!zone.empty()) draw_threshold_line(out, zone);
  }

  /// Round what is within 1 dB of the best.
  std::string zone_path(const Frame& frame) const {
    const LevelGrid& grid = field().grid;
    const Field below{grid.columns + 2, grid.rows + 2, [&](int column, int row) {
                        if (column == 0 || row == 0 || column > grid.columns || row > grid.rows) return 1.0;
                        const auto cell =
                            static_cast<std::size_t>(row - 1) * static_cast<std::size_t>(grid.columns) +
                            static_cast<std::size_t>(column - 1);
                        const auto worst = static_cast<double>(field().worst[cell]);
                        return worst < 0 ? 1.0 : field().one_db_less - worst - 1e-12;
                      }};
    std::string path;
    for (const std::vector<Point2>& outline : zones_below_zero(below)) {
      ContourLine line = simplified({outline, true}, kTolerancePx / (px_per_m_ * grid.step_m));
      for (Point2& point : line.points)
        point = frame.at(grid.corner + grid.step_m * (point - Point2{0.5, 0.5}));
      path += outline_path(line.points, true);
    }
    return path;
  }

  double legend(svg::Writer& out, Point2 corner) const {
    out.text(corner, "least chance, in 100",
             {{"fill", plan::kInk}, {"font-size", "13"}, {"font-weight", "bold"}});
    const Box2 bar{corner + Point2{0, 8}, corner + Point2{kBarWidthPx, 8 + kBarPx}};
    out.image(bar, palette_ramp());
    for (int percent = 0; percent <= 100; percent += 20)
      draw_palette_figure(out, {bar.min.x + kBarWidthPx * percent / 100, bar.max.y}, std::to_string(percent));
    const Point2 at{bar.max.x + 26, bar.min.y};
    const std::vector<Point2> box{at, at + Point2{44, 0}, at + Point2{44, kBarPx}, at + Point2{0, kBarPx}};
    out.element("polygon", {{"points", svg::points(box)}, {"fill", hex_text(map_colour(0.7))}});
    draw_threshold_line(out, "M" + svg::points(box) + "Z");
    out.text({at.x + 54, at.y + 12}, "within 1 dB of the best", {{"fill", plan::kInk}, {"font-size", "12"}});
    out.text({bar.min.x, bar.max.y + 34}, "white: the hub may not go there",
             {{"fill", plan::kInk}, {"font-size", "12"}});
    return bar.max.y + 40;
  }

  const PlacementAnswer& answer_;
  Site site_;
  Box2 world_;
  std::map<std::string, plan::DeviceMark> marks_;
  double px_per_m_ = 1;
  double width_px_ = 0;
};

}  // namespace

std::string placement_svg(const Site& site, const PlacementAnswer& answer) {
  return FieldSheet(site, answer).draw().take();
}

std::string placement_png(const Site& site, const PlacementAnswer& answer) {
  const svg::Writer sheet = FieldSheet(site, answer).draw();
  return png_bytes(painted(sheet, picture_scale(sheet)));
}

}  // namespace linkmargin
