#pragma once

#include "linkmargin/geometry/polygon.hpp"

#include <optional>
#include <span>

/// Not installed.
namespace linkmargin::layout {

/// The outline of several shapes taken together, counter-clockwise, without corners in the middle of an edge.
/// @param shapes  polygons of edges along x and y alone, which meet at edges and do not overlap
/// @return nothing where an edge is aslant, the shapes do not hang together by edges, or they enclose a court
std::optional<Polygon2> united(std::span<const Polygon2> shapes);

}  // namespace linkmargin::layout
