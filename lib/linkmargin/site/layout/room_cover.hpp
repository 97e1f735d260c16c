#pragma once

#include "linkmargin/geometry/polygon.hpp"

/// Not installed.
namespace linkmargin::layout {

/// How much of a room of the storey above lies over a room.
enum class Cover { none, part, whole };

/// What sizes that differ by a wall or a slip of measuring make no more of than nothing, or no less than all:
/// a twentieth of the upper room.
Cover cover_of(const Polygon2& lower, const Polygon2& upper);

}  // namespace linkmargin::layout
