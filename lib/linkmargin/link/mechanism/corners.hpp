#pragma once

#include "linkmargin/link/building/building.hpp"

#include <cstddef>
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
  };
  std::vector<Arm> arms;
  std::uint32_t obstacle = kNone;  ///< position in Building::obstacles(), for an obstacle's corner
};

/// The end of a wall that lies furthest along a direction.
inline Point2 far_end(const Wall& wall, Point2 along) {
  return dot(wall.base.b - wall.base.a, along) > 0 ? wall.base.b : wall.base.a;
}

/// The corners of a building: where an end of a wall meets other walls, and those of obstacles. An end that
/// meets nothing is an aperture instead.
struct Corners {
  std::vector<Corner> all;
  std::vector<Box2> boxes;  ///< round each kRun corners that follow each other: those far from a line are
                            ///< passed over together

  static constexpr std::size_t kRun = 8;
};
Corners find_corners(const Building& building);

}  // namespace linkmargin
