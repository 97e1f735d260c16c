#pragma once

#include "linkmargin/link/building/transmission.hpp"

#include <optional>
#include <vector>

namespace linkmargin {

/// The loss of one construction over the cosine of the angle from the normal, in steps fine enough that a
/// straight line between them is within kAngleTableDb.
struct AngleTable {
  float first_cos = 0;        ///< of values[0], at kMaxIncidenceDeg; nearer to grazing the same loss holds
  float per_cos = 0;          ///< steps for a cosine of 1
  std::vector<float> values;  ///< dB; the last repeated once
};

inline constexpr double kAngleTableDb = 1e-5;

/// Nothing when that would take more than 2^16 steps: many layers of many wavelengths.
std::optional<AngleTable> angle_table(const Transmission& transmission);

}  // namespace linkmargin
