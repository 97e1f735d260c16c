#include "linkmargin/propagation/fading/draw.hpp"

#include "linkmargin/propagation/fading/fading.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace linkmargin {

NormalPair normal_pair(const RandomStream& stream, std::uint64_t draw) {
  const double radius = std::sqrt(-2 * std::log(1 - stream.uniform(2 * draw)));
  const double angle = 2 * std::numbers::pi * stream.uniform(2 * draw + 1);
  return {radius * std::cos(angle), radius * std::sin(angle)};
}

double rician_draw_db(double k_ratio, const RandomStream& stream, std::uint64_t draw) {
  const NormalPair scattered = normal_pair(stream, draw);
  const double in_phase = std::sqrt(2 * k_ratio) + scattered.first;
  const double power = (in_phase * in_phase + scattered.second * scattered.second) / (2 * (1 + k_ratio));
  return std::max(10 * std::log10(power), kFadeLevelDb.min);
}

}  // namespace linkmargin
