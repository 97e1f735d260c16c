#pragma once

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/base/sure_probability.hpp"

#include <cmath>

namespace linkmargin {

/// The nearest number of 12 decimals: hides the noise of the last bits, keeps sums right to far better than
/// 1e-9.
inline double rounded_for_programs(double value) {
  return std::isfinite(value) ? parse_number(fixed_text(value, 12)).value_or(value) : value;
}

/// A percentage as whole number, rounded, but never over to the other side of a threshold: 39.6 under a
/// threshold of 40 is shown as 39, so that what is shown never contradicts "weak".
inline double whole_percent(double percent, double threshold) {
  const double nearest = std::round(percent);
  return percent < threshold && nearest >= threshold ? std::ceil(threshold) - 1 : nearest;
}

/// A chance in whole hundredths, rounded, but never over to the other side of what counts as sure, nor to a
/// certainty that no prediction has: 1 to 99. Under 0.01 and over 0.99 words say so instead (is_no_chance,
/// is_certain).
inline double whole_chance(double probability) {
  const double shown = whole_percent(100 * probability, 100 * kSureProbability);
  return shown < 1 ? 1 : shown > 99 ? 99 : shown;
}
inline bool is_no_chance(double probability) {
  return probability < 0.01;
}
inline bool is_certain(double probability) {
  return probability > 0.99;
}

}  // namespace linkmargin
