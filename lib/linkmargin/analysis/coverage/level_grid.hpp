#pragma once

#include "linkmargin/geometry/point.hpp"

#include <cstddef>

namespace linkmargin {

/// Cells of a storey at one height: `columns` by `rows` squares, in rows from the lower left.
struct LevelGrid {
  Point2 corner;  ///< lower left corner of the first cell
  double step_m = 0.05;
  int columns = 0;
  int rows = 0;
  double z_m = 0;  ///< above the site's zero

  std::size_t size() const { return static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows); }
  Point3 centre(std::size_t cell) const {
    const auto across = static_cast<std::size_t>(columns);
    return {corner.x + (static_cast<double>(cell % across) + 0.5) * step_m,
            corner.y + (static_cast<double>(cell / across) + 0.5) * step_m, z_m};
  }
};

}  // namespace linkmargin
