#pragma once

#include <cstddef>

namespace linkmargin {

/// No file that a person writes is longer.
inline constexpr std::size_t kMaxFileBytes = 2U << 20U;

/// Faults of one file that are listed: the first ones; a last one, without a line, says how many more there
/// are.
inline constexpr std::size_t kMostFaults = 200;

}  // namespace linkmargin
