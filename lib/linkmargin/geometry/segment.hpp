#pragma once

#include "linkmargin/geometry/box.hpp"

#include <algorithm>
#include <utility>

namespace linkmargin {

/// A straight piece of the plan, from a to b, metres.
struct Segment2 {
  Point2 a;
  Point2 b;
  friend constexpr bool operator==(const Segment2&, const Segment2&) = default;
};

/// The end points in lexicographic order (x first, then y).
constexpr Segment2 ordered(Segment2 s) {
  return s.b < s.a ? Segment2{s.b, s.a} : s;
}

/// Twice the signed area of the triangle a, b, c: positive when c lies to the left of a line from a to b.
/// Exact for snapped points within kCoordinateM. side(a, b, c) == -side(b, a, c).
constexpr double side(Point2 a, Point2 b, Point2 c) {
  return cross(b - a, c - a);
}

/// Whether a ray crosses a wall, both seen in plan.
///
/// A point on the line of a segment counts as lying to the left of that segment's ordered direction: on its
/// upper side (greater y), and for a wall along y on the side of smaller x. contains() gives a point on a
/// wall to the room on that same side. Hence, for snapped points:
/// - unchanged by swapping the ends of the ray, of the wall, or both;
/// - a ray through the shared corner of two walls that go on past it crosses exactly one of them; one that
/// only
///   touches the corner from one side crosses none or both;
/// - a ray along the line of a wall crosses it never;
/// - a ray or wall of zero length crosses nothing;
/// - an end of a ray *on* a wall stands on the side said above: the ray crosses the wall if it leaves to the
/// other.
constexpr bool crosses(Segment2 ray, Segment2 wall) {
  const auto [a, b] = ordered(ray);
  const auto [c, d] = ordered(wall);
  return (side(a, b, c) >= 0) != (side(a, b, d) >= 0) && (side(c, d, a) >= 0) != (side(c, d, b) >= 0);
}

/// Where the line of `wall` cuts the ordered ray: 0 at its first end, 1 at its second. Bit for bit unchanged
/// by swapping the ends of either. Meaningful only where crosses() holds.
constexpr double crossing_fraction(Segment2 ray, Segment2 wall) {
  const auto [a, b] = ordered(ray);
  const auto [c, d] = ordered(wall);
  const double before = side(c, d, a);
  return before / (before - side(c, d, b));
}

/// The least box that holds both ends.
constexpr Box2 bounding_box(Segment2 s) {
  return {{std::min(s.a.x, s.b.x), std::min(s.a.y, s.b.y)}, {std::max(s.a.x, s.b.x), std::max(s.a.y, s.b.y)}};
}

/// Whether some point of a segment lies in a box, its sides counting. Exact as side() is.
constexpr bool meets(Segment2 s, const Box2& box) {
  if (!box.meets(bounding_box(s))) return false;
  const auto [least, most] =
      std::minmax({side(s.a, s.b, box.min), side(s.a, s.b, box.max), side(s.a, s.b, {box.min.x, box.max.y}),
                   side(s.a, s.b, {box.max.x, box.min.y})});
  return least <= 0 && most >= 0;
}

/// Distance from a point to the nearest point of a segment.
double distance_to_segment(Point2 p, Segment2 s);

/// Where along a segment its nearest point to p lies: 0 at a, 1 at b, cut to that interval.
double nearest_fraction(Point2 p, Segment2 s);

/// Between its ends, metres.
inline double length(Segment2 s) {
  return distance(s.a, s.b);
}
/// The point a fraction of the way from a to b; 0 is a, 1 is b.
constexpr Point2 at_fraction(Segment2 s, double fraction) {
  return s.a + fraction * (s.b - s.a);
}

}  // namespace linkmargin
