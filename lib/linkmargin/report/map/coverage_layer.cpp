#include "linkmargin/report/map/coverage_layer.hpp"

#include "linkmargin/report/drawing/palette.hpp"
#include "linkmargin/report/drawing/sheet.hpp"
#include "linkmargin/report/map/coverage_contours.hpp"
#include "linkmargin/report/map/coverage_legend.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

/// In cells of a map, between whose centres its lines are drawn straight: how far a line may lie off them,
/// how far one between two hubs may, which is known to a cell alone, and within which corners are rounded.
constexpr double kSimplifiedCells = 0.15;
constexpr double kServingCells = 0.8;
constexpr double kRoundedCells = 1.5;

/// How a map's lines are drawn on a plan.
struct Pen {
  Pen(const CoverageMap& map, const plan::Frame& of)
      : frame(of),
        reach_px(kRoundedCells * map.step_m * of.px_per_m),
        tolerance_m(std::max(kOutlineTolerancePx / of.px_per_m, kSimplifiedCells * map.step_m)) {}

  std::string path(ContourLine line) const {
    for (Point2& point : line.points) point = frame.at(point);
    return smooth_path(line, reach_px);
  }

  std::string path(const Zone& zone) const {
    std::string outlines;
    for (const std::vector<Point2>& outline : zone) outlines += path({outline, true});
    return outlines;
  }

  std::string path(const std::vector<ContourLine>& lines) const {
    std::string text;
    for (const ContourLine& line : lines) text += path(line);
    return text;
  }

  const plan::Frame& frame;
  double reach_px;
  double tolerance_m;
};

/// The cells that a plan shows, and one more all round. Of values alone that are drawn.
CoverageMap cropped(const CoverageMap& map, const Box2& world) {
  const auto first = [&](double from, double origin) {
    return std::max(0, static_cast<int>(std::floor((from - origin) / map.step_m)) - 1);
  };
  const auto last = [&](double to, double origin, int count) {
    return std::min(count, static_cast<int>(std::ceil((to - origin) / map.step_m)) + 1);
  };
  const int left = first(world.min.x, map.origin.x), lower = first(world.min.y, map.origin.y);
  const int right = last(world.max.x, map.origin.x, map.columns);
  const int upper = last(world.max.y, map.origin.y, map.rows);
  CoverageMap part = map;
  part.columns = std::max(1, right - left);
  part.rows = std::max(1, upper - lower);
  part.origin = map.origin + map.step_m * Point2{static_cast<double>(left), static_cast<double>(lower)};
  const auto crop = [&](auto& cells, const auto& of) {
    if (of.empty()) return;
    cells.clear();
    for (int row = lower; row < lower + part.rows; ++row) {
      const auto from = of.begin() + static_cast<std::ptrdiff_t>(row) * map.columns + left;
      cells.insert(cells.end(), from, from + part.columns);
    }
  };
  crop(part.path_loss_db, map.path_loss_db);
  crop(part.sigma_db, map.sigma_db);
  crop(part.nearby_shift_db, map.nearby_shift_db);
  crop(part.k_db, map.k_db);
  crop(part.onward_probability, map.onward_probability);
  crop(part.hub_of, map.hub_of);
  return part;
}

void draw_colours(svg::Writer& out, const CoverageMap& map, CoverageValue value, const plan::Frame& frame) {
  const double threshold = threshold_share(map, value);
  const std::vector<double> steps = map_steps(threshold);
  const Box2 box = map_box(map);
  const Point2 upper_left = frame.at({box.min.x, box.max.y}), lower_right = frame.at({box.max.x, box.min.y});
  out.element("rect", {{"x", svg::px(upper_left.x)},
                       {"y", svg::px(upper_left.y)},
                       {"width", svg::px(lower_right.x - upper_left.x)},
                       {"height", svg::px(lower_right.y - upper_left.y)},
                       {"fill", hex_text(map_colour(0, threshold))}});
  const Pen pen(map, frame);
  const std::vector<Zone> zones = colour_zones(map, value, pen.tolerance_m);
  for (std::size_t i = 0; i < zones.size(); ++i) {
    if (zones[i].empty()) continue;
    out.element("path", {{"d", pen.path(zones[i])}, {"fill", hex_text(map_colour(steps[i + 1], threshold))}});
  }
}

/// Thin and dashed, under the line of the threshold.
void draw_serving_lines(svg::Writer& out, const CoverageMap& map, const Pen& pen) {
  const double tolerance_m = std::max(pen.tolerance_m, kServingCells * map.step_m);
  const std::string lines = pen.path(serving_lines(map, tolerance_m));
  if (lines.empty()) return;
  out.element(
      "path",
      {{"d", lines}, {"fill", "none"}, {"stroke", kInk}, {"stroke-width", "1"}, {"stroke-dasharray", "7 4"}});
}

/// @param map  what the frame shows of it
void draw_cells(svg::Writer& out, const CoverageMap& map, CoverageValue value, const plan::Frame& frame) {
  draw_colours(out, map, value, frame);
  const Pen pen(map, frame);
  const WeakZone weak = weak_zone(map, pen.tolerance_m);
  if (!weak.outlines.empty()) out.element("path", {{"d", pen.path(weak.outlines)}, {"fill", "url(#weak)"}});
  if (!frame.elsewhere) draw_serving_lines(out, map, pen);
  const std::string threshold = pen.path(weak.lines);
  if (!threshold.empty()) draw_threshold_line(out, threshold);
}

}  // namespace

void draw_coverage(svg::Writer& out, const CoverageMap& map, CoverageValue value, const plan::Frame& frame) {
  if (frame.clip.empty() || frame.elsewhere) {
    draw_cells(out, map, value, frame);
  } else {
    draw_cells(out, cropped(map, frame.world), value, frame);
  }
}

Box2 map_box(const CoverageMap& map) {
  return {map.origin,
          map.origin + map.step_m * Point2{static_cast<double>(map.columns), static_cast<double>(map.rows)}};
}

}  // namespace linkmargin
