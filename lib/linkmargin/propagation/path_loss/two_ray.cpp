#include "linkmargin/propagation/path_loss/two_ray.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/propagation/path_loss/free_space.hpp"

#include <cmath>

namespace linkmargin {

double breakpoint_distance_m(double height_1_m, double height_2_m, double frequency_hz) {
  require_in(kGroundHeightM, height_1_m);
  require_in(kGroundHeightM, height_2_m);
  require_in(kFrequencyHz, frequency_hz);
  return 4 * (height_1_m * height_2_m) / wavelength_m(frequency_hz);
}

double ground_reflection_db(double distance_m, double height_1_m, double height_2_m, double frequency_hz) {
  require_in(kDistanceM, distance_m);
  const double breakpoint_m = breakpoint_distance_m(height_1_m, height_2_m, frequency_hz);
  return distance_m > breakpoint_m ? 20 * std::log10(distance_m / breakpoint_m) : 0;
}

}  // namespace linkmargin
