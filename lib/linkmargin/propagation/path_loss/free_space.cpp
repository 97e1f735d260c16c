#include "linkmargin/propagation/path_loss/free_space.hpp"

#include "linkmargin/base/units.hpp"

#include <cmath>

namespace linkmargin {

double free_space_loss_db(double distance_m, double frequency_hz) {
  require_in(kDistanceM, distance_m);
  require_in(kFrequencyHz, frequency_hz);
  return 20 * std::log10(4 * kPi * distance_m / wavelength_m(frequency_hz));
}

}  // namespace linkmargin
