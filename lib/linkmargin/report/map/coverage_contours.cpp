#include "linkmargin/report/map/coverage_contours.hpp"

#include "linkmargin/geometry/polygon.hpp"
#include "linkmargin/report/drawing/palette.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

double reach(const std::vector<Point2>& points) {
  const Box2 box = bounding_box(points);
  return std::max(box.max.x - box.min.x, box.max.y - box.min.y);
}

std::size_t cell_at(const CoverageMap& map, int column, int row) {
  return static_cast<std::size_t>(row) * static_cast<std::size_t>(map.columns) +
         static_cast<std::size_t>(column);
}

std::vector<Point2> in_metres(const CoverageMap& map, std::vector<Point2> points) {
  for (Point2& p : points) p = map.origin + map.step_m * (p + Point2{0.5, 0.5});
  return points;
}

Zone zone_below_zero(const CoverageMap& map, const Field& field, double tolerance_m) {
  const double tolerance = tolerance_m / map.step_m;
  Zone zone;
  for (const std::vector<Point2>& outline : zones_below_zero(field)) {
    if (reach(outline) < kSpeck * tolerance) continue;
    zone.push_back(in_metres(map, simplified({outline, true}, tolerance).points));
  }
  return zone;
}

/// In site metres, specks left out.
std::vector<ContourLine> lines_of(const CoverageMap& map, const Field& field, double tolerance_m) {
  const double tolerance = tolerance_m / map.step_m;
  std::vector<ContourLine> lines;
  for (const ContourLine& line : zero_lines(field)) {
    if (reach(line.points) < kSpeck * tolerance) continue;
    const ContourLine fewer = simplified(line, tolerance);
    lines.push_back({in_metres(map, fewer.points), fewer.closed});
  }
  return lines;
}

}  // namespace

std::vector<Zone> colour_zones(const CoverageMap& map, CoverageValue value, double tolerance_m) {
  const ValueScale scale = value_scale(map, value);
  std::vector<double> shares(map.size());  // each is asked for by every colour, and a chance is dear
  for (std::size_t cell = 0; cell < shares.size(); ++cell) {
    const double share = scale.share(shown_value(map, cell, value));
    shares[cell] = std::isfinite(share) ? share : 0;
  }
  std::vector<Zone> zones;
  for (const double least : map_steps(threshold_share(map, value))) {
    if (least == 0) continue;
    const Field field{map.columns, map.rows,
                      [&](int column, int row) { return least - shares[cell_at(map, column, row)]; }};
    zones.push_back(zone_below_zero(map, field, tolerance_m));
  }
  return zones;
}

WeakZone weak_zone(const CoverageMap& map, double tolerance_m) {
  const Field field{map.columns, map.rows,
                    [&](int column, int row) { return headroom_db(map, cell_at(map, column, row)); }};
  return {lines_of(map, field, tolerance_m), zone_below_zero(map, field, tolerance_m)};
}

std::vector<ContourLine> serving_lines(const CoverageMap& map, double tolerance_m) {
  std::vector<ContourLine> lines;
  if (map.hub_of.empty()) return lines;
  for (std::size_t hub = 0; hub + 1 < map.hubs.size(); ++hub) {
    const Field field{map.columns, map.rows, [&](int column, int row) {
                        return map.hub_of[cell_at(map, column, row)] <= hub ? -1.0 : 1.0;
                      }};
    for (ContourLine& line : lines_of(map, field, tolerance_m)) lines.push_back(std::move(line));
  }
  return lines;
}

}  // namespace linkmargin
