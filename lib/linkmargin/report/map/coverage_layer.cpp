#include "linkmargin/report/map/coverage_layer.hpp"

#include "linkmargin/report/map/coverage_legend.hpp"
#include "linkmargin/report/map/coverage_picture.hpp"
#include "linkmargin/report/drawing/sheet.hpp"

#include <memory>

namespace linkmargin {
namespace {

constexpr double kTolerancePx = 0.35;

std::string path(std::vector<Point2> points, bool closed, const plan::Frame& frame) {
  for (Point2& point : points) point = frame.at(point);
  return outline_path(points, closed);
}

}  // namespace

void draw_coverage(svg::Writer& out, const CoverageMap& map, CoverageValue value, const plan::Frame& frame,
                   double picture_px_per_m) {
  const Box2 box = map_box(map);
  out.image({frame.at({box.min.x, box.max.y}), frame.at({box.max.x, box.min.y})},
            std::make_shared<const IndexedPicture>(coverage_picture(map, value, picture_px_per_m)));
  const WeakZone zone = weak_zone(map, kTolerancePx / frame.px_per_m);
  std::string outlines;
  for (const std::vector<Point2>& outline : zone.outlines) outlines += path(outline, true, frame);
  if (!outlines.empty()) out.element("path", {{"d", outlines}, {"fill", "url(#weak)"}});
  std::string threshold;
  for (const ContourLine& line : zone.lines) threshold += path(line.points, line.closed, frame);
  if (!threshold.empty()) draw_threshold_line(out, threshold);
}

Box2 map_box(const CoverageMap& map) {
  return {map.origin,
          map.origin + map.step_m * Point2{static_cast<double>(map.columns), static_cast<double>(map.rows)}};
}

}  // namespace linkmargin
