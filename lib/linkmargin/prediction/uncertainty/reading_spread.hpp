#pragma once

#include "linkmargin/geometry/point.hpp"

#include <cstddef>

namespace linkmargin {

/// How one reading is spread about its prediction.
struct ReadingSpread {
  std::size_t site = 0;  ///< readings of two sites have nothing in common
  Point3 device;
  Point3 hub;
  double local_db = 0;  ///< deviation of the local mean, alike for readings that are near
  double spot_db = 0;   ///< of the spot about its local mean, and of the receiver: a matter of one reading
};

}  // namespace linkmargin
