#include "linkmargin/analysis/coverage/angle_table.hpp"

#include "linkmargin/base/units.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

constexpr int kFewest = 256;
constexpr int kMost = 65536;

/// The error of a straight line over a step is an eighth of the second difference.
double error_db(const std::vector<double>& values) {
  double most = 0;
  for (std::size_t i = 2; i < values.size(); ++i) {
    most = std::max(most, std::abs(values[i] - 2 * values[i - 1] + values[i - 2]));
  }
  return most / 8;
}

}  // namespace

std::optional<AngleTable> angle_table(const Transmission& transmission) {
  const double first = std::cos(kMaxIncidenceDeg * kPi / 180);
  std::vector<double> values;
  const auto fill = [&](int steps) {
    const std::vector<double> coarser = std::move(values);
    values.assign(static_cast<std::size_t>(steps) + 1, 0);
    for (std::size_t i = 0; i < values.size(); ++i) {
      const bool known = !coarser.empty() && i % 2 == 0;
      const double share = static_cast<double>(i) / steps;
      values[i] = known ? coarser[i / 2] : transmission.loss_db(first + share * (1 - first));
    }
  };
  int steps = kFewest;
  fill(steps);
  while (error_db(values) > kAngleTableDb) {
    steps *= 2;
    if (steps > kMost) return std::nullopt;
    fill(steps);
  }
  AngleTable table{static_cast<float>(first), static_cast<float>(steps / (1 - first)), {}};
  for (const double value : values) table.values.push_back(static_cast<float>(value));
  table.values.push_back(table.values.back());
  return table;
}

}  // namespace linkmargin
