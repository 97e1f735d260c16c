#include "linkmargin/link/reverberation/block_axis.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

/// How far from half-way between two numbers of blocks both are taken.
constexpr double kBothWithin = 0.05;  ///< assumption; doubled, halved: 0.6, 1.2 dB at most, 0.08, 0.14 rms

}  // namespace

BlockAxis::BlockAxis(double length_m, double block_m) : length_m_(length_m) {
  const double blocks = std::max(length_m / block_m, 1.0);
  const double fewer = std::floor(blocks);
  const double upper = std::clamp((blocks - fewer - 0.5 + kBothWithin) / (2 * kBothWithin), 0.0, 1.0);
  divisions_.clear();
  if (upper < 1) divisions_.push_back({static_cast<int>(fewer), 1 - upper});
  if (upper > 0) divisions_.push_back({static_cast<int>(fewer) + 1, upper});
  for (const Division& division : divisions_) {
    for (int i = 1; i < division.count; ++i)
      cuts_.push_back({length_m * i / division.count, division.weight});
  }
  std::ranges::sort(cuts_, {}, &Cut::at_m);
}

int BlockAxis::interval(double at_m) const {
  return static_cast<int>(std::ranges::upper_bound(cuts_, at_m, {}, &Cut::at_m) - cuts_.begin());
}

std::vector<std::pair<int, double>> BlockAxis::weights(double at_m) const {
  std::vector<double> of(cuts_.size() + 1);
  // Spreads a weight over the intervals of one block.
  const auto add = [&](const Division& division, double block, double weight) {
    const double size_m = length_m_ / division.count, from_m = block * size_m, to_m = from_m + size_m;
    if (weight <= 0) return;
    if (size_m <= 0) {
      of[0] += weight;
      return;
    }
    for (std::size_t i = 0; i < of.size(); ++i) {
      const double low_m = std::max(from_m, i == 0 ? 0 : cuts_[i - 1].at_m);
      const double high_m = std::min(to_m, i < cuts_.size() ? cuts_[i].at_m : length_m_);
      // A block's own ends are rounded: what is left of the next interval is nothing.
      if (high_m - low_m > 1e-9 * size_m) of[i] += weight * (high_m - low_m) / size_m;
    }
  };
  for (const Division& division : divisions_) {
    const double last = division.count - 1;
    const double place = length_m_ > 0 ? std::clamp(at_m / length_m_ * division.count - 0.5, 0.0, last) : 0;
    const double block = std::min(std::floor(place), std::max(0.0, last - 1));
    add(division, block, division.weight * (1 - (place - block)));
    if (last > 0) add(division, block + 1, division.weight * (place - block));
  }
  std::vector<std::pair<int, double>> result;
  for (std::size_t i = 0; i < of.size(); ++i) {
    if (of[i] > 0) result.emplace_back(static_cast<int>(i), of[i]);
  }
  return result;
}

}  // namespace linkmargin
