#pragma once

#include "linkmargin/geometry/point.hpp"
#include "linkmargin/link/building/transmission.hpp"

#include <array>
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
  double transmitted = 0;  ///< share, mean over all angles
  static constexpr std::size_t kAngles = 21;
  std::array<double, kAngles>
      at_cosine{};     ///< the same by the cosine of the angle, in even steps from 0 to 1
  bool eaves = false;  ///< not a face but its upper edge, under a roof that transmits as much

  /// What of a radio's power falls on the face from a point, in the open, and passes it; 0 from inside.
  double lit(Point3 from, double wavelength_m) const;
  /// The same by classes of elevation, each over its weight: the sum of their weights times them, by the
  /// face's own loss at each angle.
  /// @param in_all  lit() from there
  std::array<double, kElevations> lit_by_elevation(Point3 from, double in_all) const;
  double solid_angle(Point3 from) const;
  double over_edge(Point3 from, double wavelength_m) const;
  Point3 before() const;  ///< a little outside its middle
};

}  // namespace linkmargin
