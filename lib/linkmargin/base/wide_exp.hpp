#pragma once

#include "linkmargin/base/simd_dispatch.hpp"

#include <bit>
#include <cstdint>
#include <numbers>

namespace linkmargin {

/// The least exponent that wide_exp() takes. In a loop it has to be held in a variable that the compiler does
/// not know, or the loop becomes one of single steps.
inline constexpr double kLeastExponent = -700;

/// exp(x) for loops that are made wide, kLeastExponent <= x <= 0: a power of two, and Taylor's series of what
/// is left, at most ln(2) / 2. Error: 1e-14 of the value; the same bits on any processor.
LINKMARGIN_LOOP double wide_exp(double x) {
  constexpr double round = 0x1.8p52;             // added, leaves the nearest whole number in the lowest bits
  constexpr double ln2_high = 0x1.62e42fefap-1;  // times a whole number up to 2^11 exact
  constexpr double ln2_low = 0x1.cf79abc9e3b3ap-40;
  const double shifted = x * std::numbers::log2e + round;
  const double power = shifted - round;
  const double r = (x - power * ln2_high) - power * ln2_low;
  const double fourth = 1 / 24.0 + r * (1 / 120.0 + r * (1 / 720.0 + r * (1 / 5040.0)));
  const double eighth = 1 / 40320.0 + r * (1 / 362880.0 + r * (1 / 3628800.0 + r * (1 / 39916800.0)));
  const double square = r * r, power_4 = square * square;
  const double sum = 1 + r * (1 + r * (1 / 2.0 + r * (1 / 6.0))) + power_4 * (fourth + power_4 * eighth);
  return std::bit_cast<double>(std::bit_cast<std::int64_t>(sum) +
                               (std::bit_cast<std::int64_t>(shifted) << 52));
}

}  // namespace linkmargin
