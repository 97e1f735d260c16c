#pragma once

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/geometry/polygon.hpp"

#include <cmath>
#include <string>

/// Not installed.
namespace linkmargin::layout {

/// To a tenth of a millimetre: a length that was calculated from typed ones reads as if it were typed.
inline double rounded_m(double length_m) {
  constexpr double steps = 1e4;
  return std::round(length_m * steps) / steps;
}

/// A coordinate as it was probably typed, in whole millimetres, where it snaps to the same place: what is
/// added to it then comes out as a person would add it.
inline double as_typed(double coordinate_m) {
  constexpr double steps = 1e3;
  const double typed_m = std::round(coordinate_m * steps) / steps;
  return snapped(typed_m) == coordinate_m ? typed_m : coordinate_m;
}
inline Point2 as_typed(Point2 p) {
  return {as_typed(p.x), as_typed(p.y)};
}
inline Polygon2 as_typed(Polygon2 corners) {
  for (Point2& corner : corners) corner = as_typed(corner);
  return corners;
}

}  // namespace linkmargin::layout
