#include "linkmargin/propagation/fading/shadowing_correlation.hpp"

#include <cmath>

namespace linkmargin {

double shadowing_correlation(double apart_m, double length_m) {
  require_in(kApartM, apart_m);
  require_in(kCorrelationLengthM, length_m);
  return std::exp(-apart_m / length_m);
}

}  // namespace linkmargin
