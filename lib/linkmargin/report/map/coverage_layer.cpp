#include "linkmargin/report/map/coverage_layer.hpp"

#include "linkmargin/report/drawing/palette.hpp"
#include "linkmargin/report/drawing/sheet.hpp"
#include "linkmargin/report/map/coverage_contours.hpp"
#include "linkmargin/report/map/coverage_legend.hpp"

namespace linkmargin {
namespace {

std::string path(std::vector<Point2> points, bool closed, const plan::Frame& frame) {
  for (Point2& point : points) point = frame.at(point);
  return outline_path(points, closed);
}

std::string path(const Zone& zone, const plan::Frame& frame) {
  std::string outlines;
  for (const std::vector<Point2>& outline : zone) outlines += path(outline, true, frame);
  return outlines;
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
  const std::vector<Zone> zones = colour_zones(map, value, kOutlineTolerancePx / frame.px_per_m);
  for (std::size_t i = 0; i < zones.size(); ++i) {
    if (zones[i].empty()) continue;
    out.element("path",
                {{"d", path(zones[i], frame)}, {"fill", hex_text(map_colour(steps[i + 1], threshold))}});
  }
}

/// Thin and dashed, under the line of the threshold.
void draw_serving_lines(svg::Writer& out, const CoverageMap& map, const plan::Frame& frame) {
  std::string lines;
  for (const ContourLine& line : serving_lines(map, kOutlineTolerancePx / frame.px_per_m))
    lines += path(line.points, line.closed, frame);
  if (lines.empty()) return;
  out.element(
      "path",
      {{"d", lines}, {"fill", "none"}, {"stroke", kInk}, {"stroke-width", "1"}, {"stroke-dasharray", "7 4"}});
}

}  // namespace

void draw_coverage(svg::Writer& out, const CoverageMap& map, CoverageValue value, const plan::Frame& frame) {
  draw_colours(out, map, value, frame);
  const WeakZone weak = weak_zone(map, kOutlineTolerancePx / frame.px_per_m);
  if (!weak.outlines.empty())
    out.element("path", {{"d", path(weak.outlines, frame)}, {"fill", "url(#weak)"}});
  draw_serving_lines(out, map, frame);
  std::string threshold;
  for (const ContourLine& line : weak.lines) threshold += path(line.points, line.closed, frame);
  if (!threshold.empty()) draw_threshold_line(out, threshold);
}

Box2 map_box(const CoverageMap& map) {
  return {map.origin,
          map.origin + map.step_m * Point2{static_cast<double>(map.columns), static_cast<double>(map.rows)}};
}

}  // namespace linkmargin
