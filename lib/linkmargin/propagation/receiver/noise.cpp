#include "linkmargin/propagation/receiver/noise.hpp"

#include "linkmargin/base/units.hpp"

#include <cmath>

namespace linkmargin {

double thermal_noise_dbm(double bandwidth_hz, double temperature_k) {
  require_in(kBandwidthHz, bandwidth_hz);
  require_in(kTemperatureK, temperature_k);
  return 10 * std::log10(kBoltzmann * temperature_k * bandwidth_hz * 1000);
}

double sensitivity_dbm(double bandwidth_hz, double noise_figure_db, double required_snr_db) {
  require_in(kNoiseFigureDb, noise_figure_db);
  require_in(kRequiredSnrDb, required_snr_db);
  return thermal_noise_dbm(bandwidth_hz) + noise_figure_db + required_snr_db;
}

}  // namespace linkmargin
