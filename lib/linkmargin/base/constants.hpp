#pragma once

#include <limits>

namespace linkmargin {

inline constexpr double kInfinity = std::numeric_limits<double>::infinity();
inline constexpr double kDbPerNeper = 4.342944819032518;  ///< of power: 10 / ln 10

/// What e.i.r.p. is over e.r.p.: the gain of a half-wave dipole, rounded as regulations print it. The
/// dipole's gain is 1.64092, 2.1509 dB.
inline constexpr double kEirpOverErpDb = 2.15;

}  // namespace linkmargin
