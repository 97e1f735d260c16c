#include "linkmargin/report/map/coverage_picture.hpp"

#include "linkmargin/geometry/polygon.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

/// Where between two neighbouring cells a picture's pixel lies, along one axis.
struct Between {
  std::size_t first = 0;
  std::size_t second = 0;
  double share = 0;  ///< of the second
};

Between between(double cells, int count) {
  const double at = std::clamp(cells - 0.5, 0.0, static_cast<double>(count - 1));
  const auto first = static_cast<std::size_t>(at);
  return {first, std::min(first + 1, static_cast<std::size_t>(count - 1)), at - static_cast<double>(first)};
}

double reach(const std::vector<Point2>& points) {
  const Box2 box = bounding_box(points);
  return std::max(box.max.x - box.min.x, box.max.y - box.min.y);
}

}  // namespace

IndexedPicture coverage_picture(const CoverageMap& map, CoverageValue value, double px_per_m) {
  const double wide_m = map.columns * map.step_m;
  const double high_m = map.rows * map.step_m;
  const double fine = std::min(px_per_m, kMostPicturePx / std::max(wide_m, high_m));
  const ValueScale scale = value_scale(map, value);
  IndexedPicture picture;
  picture.width = static_cast<std::size_t>(std::max(1.0, std::round(wide_m * fine)));
  picture.height = static_cast<std::size_t>(std::max(1.0, std::round(high_m * fine)));
  picture.colours = map_colours(kMapColours);
  picture.pixels.resize(picture.width * picture.height);
  const auto across = static_cast<std::size_t>(map.columns);
  std::vector<double> values(map.size());  // each is wanted by many pixels, and a chance is dear
  for (std::size_t cell = 0; cell < values.size(); ++cell) values[cell] = shown_value(map, cell, value);
  for (std::size_t y = 0; y < picture.height; ++y) {
    const double up = (1 - (static_cast<double>(y) + 0.5) / static_cast<double>(picture.height)) * map.rows;
    const Between row = between(up, map.rows);
    for (std::size_t x = 0; x < picture.width; ++x) {
      const Between column = between(
          (static_cast<double>(x) + 0.5) / static_cast<double>(picture.width) * map.columns, map.columns);
      const auto at = [&](std::size_t r, std::size_t c) { return values[r * across + c]; };
      const auto along = [&](std::size_t r) {
        return (1 - column.share) * at(r, column.first) + column.share * at(r, column.second);
      };
      const double share = scale.share((1 - row.share) * along(row.first) + row.share * along(row.second));
      const double colour = (std::isfinite(share) ? std::clamp(share, 0.0, 1.0) : 0) * (kMapColours - 1);
      picture.pixels[y * picture.width + x] = static_cast<std::uint8_t>(std::lround(colour));
    }
  }
  return picture;
}

WeakZone weak_zone(const CoverageMap& map, double tolerance_m) {
  const Field field{map.columns, map.rows, [&map](int column, int row) {
                      return headroom_db(
                          map, static_cast<std::size_t>(row) * static_cast<std::size_t>(map.columns) +
                                   static_cast<std::size_t>(column));
                    }};
  const double tolerance = tolerance_m / map.step_m;
  const auto in_metres = [&map](std::vector<Point2> points) {
    for (Point2& p : points) p = map.origin + map.step_m * (p + Point2{0.5, 0.5});
    return points;
  };
  WeakZone zone;
  for (const ContourLine& line : zero_lines(field)) {
    if (reach(line.points) < kSpeck * tolerance) continue;
    const ContourLine fewer = simplified(line, tolerance);
    zone.lines.push_back({in_metres(fewer.points), fewer.closed});
  }
  for (const std::vector<Point2>& outline : zones_below_zero(field)) {
    if (reach(outline) < kSpeck * tolerance) continue;
    zone.outlines.push_back(in_metres(simplified({outline, true}, tolerance).points));
  }
  return zone;
}

}  // namespace linkmargin
