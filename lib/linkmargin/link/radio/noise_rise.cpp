#include "linkmargin/link/radio/noise_rise.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/propagation/receiver/man_made_noise.hpp"

namespace linkmargin {
namespace {

/// Whether the site's noise area has a figure at its frequency.
bool has_line(const PropagationSettings& radio) {
  return radio.noise == NoiseArea::business && kBusinessNoiseHz.contains(radio.frequency_hz);
}

}  // namespace

double noise_rise_db(const PropagationSettings& radio, double noise_figure_db) {
  if (!has_line(radio)) return radio.noise_rise_db;
  const double external_db = business_noise_db(radio.frequency_hz);
  return total_noise_figure_db(external_db, noise_figure_db) - noise_figure_db + radio.noise_rise_db;
}

RadioEnd in_noise(RadioEnd end, const PropagationSettings& radio) {
  end.noise_rise_db = noise_rise_db(radio, end.noise_figure_db.value_or(kUsualNoiseFigureDb));
  return end;
}

std::vector<Warning> noise_warnings(const PropagationSettings& radio) {
  if (radio.noise == NoiseArea::none || has_line(radio)) return {};
  return {{.code = WarningCode::noise_not_stated,
           .arguments = {{"frequency", Figure{mhz_from_hz(radio.frequency_hz)}}}}};
}

}  // namespace linkmargin
