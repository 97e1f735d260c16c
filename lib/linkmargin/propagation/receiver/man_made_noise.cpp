#include "linkmargin/propagation/receiver/man_made_noise.hpp"

#include "linkmargin/base/provenance.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

constexpr std::string_view kEditions = "ITU-R P.372-8 and P.372-17, man-made noise";
constexpr std::string_view kEdition8 = "ITU-R P.372-8, man-made noise, business area in UHF";

constexpr Range kToVhf{0.3e6, 250e6, "frequency_hz", "ITU-R P.372, range of the line"};
constexpr Range kUhf{200e6, 900e6, "frequency_hz", "ITU-R P.372, range of the line"};

constexpr ManMadeNoise kLines[] = {
    {"city", 76.8, 27.7, kToVhf, kEditions, kTwoCopies},
    {"residential", 72.5, 27.7, kToVhf, kEditions, kTwoCopies},
    {"rural", 67.2, 27.7, kToVhf, kEditions, kTwoCopies},
    {"business", 44.3, 12.3, kUhf, kEdition8, kOneCopy},
};

double factor(double decibels) {
  return std::pow(10, decibels / 10);
}

}  // namespace

std::span<const ManMadeNoise> man_made_noise_lines() {
  return kLines;
}

const ManMadeNoise* find_man_made_noise(std::string_view environment) {
  const auto* found = std::ranges::find(kLines, environment, &ManMadeNoise::environment);
  return found == std::end(kLines) ? nullptr : found;
}

double man_made_noise_db(const ManMadeNoise& line, double frequency_hz) {
  require_in(line.frequency_hz, frequency_hz);
  return line.c - line.d * std::log10(frequency_hz / 1e6);
}

double total_noise_figure_db(double external_noise_db, double receiver_noise_db) {
  require_in(kExternalNoiseDb, external_noise_db);
  require_in(kReceiverNoiseDb, receiver_noise_db);
  return 10 * std::log10(factor(external_noise_db) + factor(receiver_noise_db) - 1);
}

}  // namespace linkmargin
