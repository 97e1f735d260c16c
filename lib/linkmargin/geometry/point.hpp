#pragma once

#include "linkmargin/base/range.hpp"

#include <bit>
#include <cmath>
#include <compare>
#include <cstddef>
#include <cstdint>

namespace linkmargin {

/// Coordinates in metres: x to the right, y up the sheet, z up.
struct Point2 {
  double x = 0;
  double y = 0;
  friend constexpr auto operator<=>(const Point2&, const Point2&) = default;
};

/// A point in space, metres: x and y of the plan, z over the site's zero.
struct Point3 {
  double x = 0;
  double y = 0;
  double z = 0;
  constexpr Point2 plan() const { return {x, y}; }
  friend constexpr auto operator<=>(const Point3&, const Point3&) = default;
};

/// Of equal points the same, of others rarely.
inline std::size_t hash_of(Point3 p) {
  std::uint64_t hash = 0;
  for (const double coordinate : {p.x, p.y, p.z})
    hash = (hash ^ std::bit_cast<std::uint64_t>(coordinate + 0.0)) * 0x9E3779B97F4A7C15ULL;
  return static_cast<std::size_t>(hash ^ (hash >> 32U));
}

constexpr Point2 operator+(Point2 a, Point2 b) {
  return {a.x + b.x, a.y + b.y};
}
constexpr Point2 operator-(Point2 a, Point2 b) {
  return {a.x - b.x, a.y - b.y};
}
constexpr Point2 operator*(double k, Point2 a) {
  return {k * a.x, k * a.y};
}
/// Scalar product.
constexpr double dot(Point2 a, Point2 b) {
  return a.x * b.x + a.y * b.y;
}
/// Over 0 where b lies to the left of a.
constexpr double cross(Point2 a, Point2 b) {
  return a.x * b.y - a.y * b.x;
}

/// In metres, to rounding; lengths under 1e-150 m count as none. Lengths of a site need no hypot(), which
/// guards against overflow and takes ten times as long.
inline double distance(Point2 a, Point2 b) {
  const double x = b.x - a.x, y = b.y - a.y;
  return std::sqrt(x * x + y * y);
}
/// The same in space.
inline double distance(Point3 a, Point3 b) {
  const double x = b.x - a.x, y = b.y - a.y, z = b.z - a.z;
  return std::sqrt(x * x + y * y + z * z);
}

/// Plan coordinates: on a grid of 2^-13 m (0.12 mm) within 4096 m of the origin, so that every cross product
/// of differences is exact in double precision (13 + 13 bits a factor, 53 bits the sum of two products).
inline constexpr double kGridPitchM = 0x1p-13;
inline constexpr Range kCoordinateM{-4096, 4096, "coordinate_m", "exactness of the predicates"};

/// The nearest point of the coordinate grid.
inline double snapped(double coordinate_m) {
  return std::nearbyint(coordinate_m / kGridPitchM) * kGridPitchM;
}
/// Both coordinates.
inline Point2 snapped(Point2 p) {
  return {snapped(p.x), snapped(p.y)};
}
/// The height stays.
inline Point3 snapped_in_plan(Point3 p) {
  return {snapped(p.x), snapped(p.y), p.z};
}

}  // namespace linkmargin
