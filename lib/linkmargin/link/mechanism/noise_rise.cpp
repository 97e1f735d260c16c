#include "linkmargin/link/mechanism/noise_rise.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/propagation/receiver/man_made_noise.hpp"

namespace linkmargin {
namespace {

/// The line of the site's noise area, whatever its range; null for no noise area.
const ManMadeNoise* line_of(NoiseArea area) {
  return area == NoiseArea::business ? find_man_made_noise("business") : nullptr;
}

}  // namespace

double noise_rise_db(const PropagationSettings& radio, double noise_figure_db) {
  const ManMadeNoise* line = line_of(radio.noise);
  if (line == nullptr || !line->frequency_hz.contains(radio.frequency_hz)) return radio.noise_rise_db;
  const double external_db = man_made_noise_db(*line, radio.frequency_hz);
  return total_noise_figure_db(external_db, noise_figure_db) - noise_figure_db + radio.noise_rise_db;
}

RadioEnd in_noise(RadioEnd end, const PropagationSettings& radio) {
  end.noise_rise_db = noise_rise_db(radio, end.noise_figure_db.value_or(kUsualNoiseFigureDb));
  return end;
}

std::vector<std::string> noise_warnings(const PropagationSettings& radio) {
  const ManMadeNoise* line = line_of(radio.noise);
  if (line == nullptr || line->frequency_hz.contains(radio.frequency_hz)) return {};
  return {"no figure for man-made noise at " + shortest_text(mhz_from_hz(radio.frequency_hz)) +
          " MHz is published here; only noise_rise_db counts"};
}

}  // namespace linkmargin
