#include "linkmargin/link/reverberation/street.hpp"

#include "linkmargin/base/range.hpp"
#include "linkmargin/link/building/transmission.hpp"

#include <cmath>

namespace linkmargin {

double Street::flux_per_watt() const {
  if (!(width_m > 0 && length_m > 0 && height_m > 0))
    throw DomainError("a street has a width, a length and a height");
  const double solid_m2 = length_m * (width_m + 2 * height_m);
  const double open_m2 = width_m * (length_m + 2 * height_m);
  const double lost_m2 = (solid_m2 * (1 - kMasonryReflects) + open_m2) / 4;
  const double reflected = kMasonryReflects * solid_m2 / (solid_m2 + open_m2);
  return reflected / lost_m2;
}

FrontShares front_shares(Point2 outward) {
  // ((1 + cos d) / 2)^2 = 3/8 + cos(d) / 2 + cos(2 d) / 8
  const double x = outward.x, y = outward.y;
  FrontShares shares;
  shares << std::sqrt(3.0 / 8), std::sqrt(0.5) * x, std::sqrt(0.5) * y, std::sqrt(0.125) * (x * x - y * y),
      std::sqrt(0.125) * 2 * x * y;
  return shares;
}

}  // namespace linkmargin
