#pragma once

#include "linkmargin/geometry/polygon.hpp"

#include <optional>

namespace linkmargin {

/// Part of a ray, as fractions of its length from its first end (see ordered()).
struct RayPart {
  double from = 0;
  double to = 0;
};

/// The first part of a ray that runs inside a polygon, within `slice`; nothing where none longer than nothing
/// does.
///
/// Half-open as crosses() and contains() are. A ray that begins or ends at a corner is inside where it sets
/// off between the two edges there; along an edge where the polygon lies to the right of the ordered ray.
/// Unchanged by swapping the ends of the ray.
std::optional<RayPart> first_part_inside(const Polygon2& polygon, Segment2 ray, RayPart slice);

}  // namespace linkmargin
