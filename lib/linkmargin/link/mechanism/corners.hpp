#pragma once

#include "linkmargin/link/building/building.hpp"
#include "linkmargin/link/mechanism/corner_index.hpp"

#include <cstdint>
#include <vector>

namespace linkmargin {

/// Where walls meet, or a corner of an obstacle.
struct Corner {
  Point2 at;
  double bottom_m = 0;  ///< above the site's zero
  double top_m = 0;
  struct Arm {
    Point2 along;                ///< away from the corner, length 1
    std::uint32_t wall = kNone;  ///< position in Building::walls(); none for an obstacle's edge
    Point2 end{};                ///< of the wall, away from the corner
  };
  std::vector<Arm> arms;           ///< the pieces of one arm follow each other
  std::uint32_t obstacle = kNone;  ///< position in Building::obstacles(), for an obstacle's corner
};

/// The end of a wall that lies furthest along a direction.
inline Point2 far_end(const Wall& wall, Point2 along) {
  return dot(wall.base.b - wall.base.a, along) > 0 ? wall.base.b : wall.base.a;
}

/// The corners of a building: where an end of a wall meets other walls, and those of obstacles. An end that
/// meets nothing is an aperture instead.
struct Corners {
  std::vector<Corner> all;  ///< neighbours follow each other
  CornerIndex index{};      ///< of all
};
Corners find_corners(const Building& building);

}  // namespace linkmargin
