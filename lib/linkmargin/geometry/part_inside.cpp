#include "linkmargin/geometry/part_inside.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

/// Whether a ray from a corner sets off to the inside. There contains() and crosses() each put the corner on
/// a side of either edge, and not always on the same. A ray along an edge runs to the right of it, as
/// crosses() has it.
bool sets_off_inside(const Polygon2& polygon, std::size_t corner, Point2 towards) {
  const Point2 before = polygon[(corner > 0 ? corner : polygon.size()) - 1];
  const Point2 at = polygon[corner];
  const Point2 after = polygon[corner + 1 < polygon.size() ? corner + 1 : 0];
  const double turn = signed_area(polygon) > 0 ? 1 : -1;
  const auto is_inside_of = [&](Point2 a, Point2 b) {
    const double by = side(a, b, towards);
    return turn * (by != 0 ? by : dot(a - b, towards - at)) > 0;
  };
  const bool convex = turn * side(before, at, after) > 0;
  return convex ? is_inside_of(before, at) && is_inside_of(at, after)
                : is_inside_of(before, at) || is_inside_of(at, after);
}

}  // namespace

std::optional<RayPart> first_part_inside(const Polygon2& polygon, Segment2 ray, RayPart slice) {
  ray = ordered(ray);
  thread_local std::vector<double> cuts;  // asked millions of times: no memory asked for each
  cuts.assign({0.0, 1.0});
  bool inside = contains(polygon, ray.a);
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Segment2 edge{polygon[i], polygon[i + 1 < polygon.size() ? i + 1 : 0]};
    if (edge.a == ray.a && ray.a != ray.b) inside = sets_off_inside(polygon, i, ray.b);
    if (edge.a == ray.a || edge.b == ray.a) continue;
    if (crosses(ray, edge)) cuts.push_back(crossing_fraction(ray, edge));
  }
  std::ranges::sort(cuts);
  for (std::size_t i = 0; i + 1 < cuts.size(); ++i, inside = !inside) {
    const RayPart part{std::max(cuts[i], slice.from), std::min(cuts[i + 1], slice.to)};
    if (inside && part.from < part.to) return part;
  }
  return {};
}

}  // namespace linkmargin
