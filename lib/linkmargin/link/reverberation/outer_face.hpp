#pragma once

#include "linkmargin/geometry/point.hpp"

#include <cstdint>

namespace linkmargin {

/// Where a cell's power passes out of doors.
struct OuterFace {
  std::uint32_t cell = 0;
  Point2 start;    ///< where it begins in its wall's line
  Point2 along;    ///< length 1
  Point2 outward;  ///< length 1
  double length_m = 0;
  double bottom_m = 0;  ///< above the site's zero
  double top_m = 0;
  double transmitted = 0;  ///< share
  bool eaves = false;      ///< not a face but its upper edge, under a roof that transmits as much

  /// What of a radio's power falls on the face from a point, in the open, and passes it; 0 from inside.
  double lit(Point3 from, double wavelength_m) const;
  double solid_angle(Point3 from) const;
  double over_edge(Point3 from, double wavelength_m) const;
  Point3 before() const;  ///< a little outside its middle
};

}  // namespace linkmargin
