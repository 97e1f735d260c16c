#include "linkmargin/propagation/material/electrical.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/propagation/path_loss/free_space.hpp"

#include <cmath>
#include <numbers>

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

double attenuation_rate_db_per_m(std::complex<double> permittivity, double frequency_hz) {
  require_in(kFrequencyHz, frequency_hz);
  require_in(kRelativePermittivity, permittivity.real());
  require_in(kDielectricLoss, -permittivity.imag());
  // Im sqrt(eps' - j eps'') as eps'' / (2 Re sqrt), which keeps its digits where the loss is small.
  const double refraction = std::sqrt(permittivity).real();
  const double extinction = -permittivity.imag() / (2 * refraction);
  const double neper_per_m = 2 * kPi / wavelength_m(frequency_hz) * extinction;
  return 20 * std::numbers::log10e * neper_per_m;
}

}  // namespace linkmargin
