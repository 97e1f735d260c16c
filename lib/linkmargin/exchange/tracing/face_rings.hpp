#pragma once

#include "linkmargin/geometry/arrangement.hpp"
#include "linkmargin/geometry/polygon.hpp"

#include <vector>

/// Not installed.
namespace linkmargin::exchange {

/// The closed outlines of a face: round it, counter-clockwise, first; then those of its holes. What juts into
/// it is left out.
std::vector<Polygon2> face_rings(const Arrangement& plan, std::uint32_t face);

/// A polygon without the corners that lie within so much of the line between their neighbours, and those
/// nearer than that to the one before. Empty where fewer than three are left.
Polygon2 without_straight_corners(const Polygon2& polygon, double off_m);

}  // namespace linkmargin::exchange
