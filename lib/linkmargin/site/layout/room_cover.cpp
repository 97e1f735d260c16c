#include "linkmargin/site/layout/room_cover.hpp"

#include "linkmargin/geometry/overlap.hpp"

#include <cmath>

namespace linkmargin::layout {

Cover cover_of(const Polygon2& lower, const Polygon2& upper) {
  constexpr double slip = 0.05;
  const double whole = std::abs(signed_area(upper));
  const double common = whole > 0 ? shared_area(lower, upper) / whole : 0;
  if (common <= slip) return Cover::none;
  return common >= 1 - slip ? Cover::whole : Cover::part;
}

}  // namespace linkmargin::layout
