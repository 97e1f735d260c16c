#include "linkmargin/geometry/segment.hpp"

#include <algorithm>

namespace linkmargin {

double nearest_fraction(Point2 p, Segment2 s) {
  const Point2 along = s.b - s.a;
  const double square = dot(along, along);
  if (square == 0) return 0;
  return std::clamp(dot(p - s.a, along) / square, 0.0, 1.0);
}

double distance_to_segment(Point2 p, Segment2 s) {
  return distance(p, at_fraction(s, nearest_fraction(p, s)));
}

}  // namespace linkmargin
