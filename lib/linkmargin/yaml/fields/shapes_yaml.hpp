#pragma once

#include "linkmargin/geometry/polygon.hpp"
#include "linkmargin/yaml/tree/object_reader.hpp"

#include <optional>
#include <vector>

/// Plan coordinates, snapped as they are read.
namespace linkmargin::yaml {

/// [x, y]
std::optional<Point2> read_point(const Cursor& cursor, Faults& faults);

/// [[x, y], ...]; empty when any of it cannot be read.
std::vector<Point2> read_points(const Cursor& list, const Range& count, Faults& faults);

/// [x, y, width, depth], its sides in range; empty when it cannot be read.
Polygon2 read_rectangle(const Cursor& cursor, const Range& side, Faults& faults);

/// Corners whose extent along x and y is in range; empty when they cannot be read.
Polygon2 read_corners(const Cursor& list, const Range& side, Faults& faults);

}  // namespace linkmargin::yaml
