#pragma once

#include <limits>

namespace linkmargin {

inline constexpr double kInfinity = std::numeric_limits<double>::infinity();
inline constexpr double kDbPerNeper = 4.342944819032518;  ///< of power: 10 / ln 10

}  // namespace linkmargin
