#pragma once

#include <span>

namespace linkmargin {

/// The sum over i of worth[i] one[i] other[i] exp(-distance_m rate_per_m[i]), all lists of one length.
///
/// The same bits on any processor. Accuracy: 1e-14 of the sum of the magnitudes; terms that have faded by
/// more than exp(-700) are taken to have faded by that.
/// @param distance_m  >= 0; the rates too
double decayed_sum(std::span<const double> worth, std::span<const double> one, std::span<const double> other,
                   std::span<const double> rate_per_m, double distance_m);

/// Adds a multiple of some numbers to as many others. The same bits on any processor.
void add_scaled(std::span<const double> values, double factor, std::span<double> sums);

}  // namespace linkmargin
