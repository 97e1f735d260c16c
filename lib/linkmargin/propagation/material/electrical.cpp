#include "linkmargin/propagation/material/electrical.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/propagation/path_loss/free_space.hpp"

#include <cmath>

namespace linkmargin {
namespace {

/// Permittivity of vacuum from mu0 = 4 pi 1e-7 H/m, exact until 2019; the measured value of today is within
/// 1e-9.
constexpr double kVacuumPermittivity = 1 / (4e-7 * kPi * kSpeedOfLight * kSpeedOfLight);

}  // namespace

std::complex<double> relative_permittivity(double a, double b, double c, double d, double frequency_hz) {
  require_in(kFrequencyHz, frequency_hz);
  const double frequency_ghz = frequency_hz / 1e9;
  const double real = a * std::pow(frequency_ghz, b);
  const double conductivity_s_per_m = c * std::pow(frequency_ghz, d);
  require_in(kRelativePermittivity, real);
  require_in(kConductivity, conductivity_s_per_m);
  return {real, -conductivity_s_per_m / (2 * kPi * frequency_hz * kVacuumPermittivity)};
}

}  // namespace linkmargin
