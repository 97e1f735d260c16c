#pragma once

#include "linkmargin/base/range.hpp"

/// How alike the local means of two links are off their predictions.
namespace linkmargin {

/// Distance over which the likeness falls to 1/e, where a site's readings do not tell. Own choice between
/// 0.9 m found in a furnished flat at 2.4 GHz (docs/validation/flat.md) and the 4 to 10 m that tables for offices
/// and halls give (3GPP TR 38.901, WINNER II A1; partly from memory).
inline constexpr double kShadowingCorrelationM = 2.0;

inline constexpr Range kApartM{0, 1e6, "apart_m", "bounds of this library"};
inline constexpr Range kCorrelationLengthM{0.05, 100, "length_m", "bounds of this library"};

/// exp(-apart / length), of the sum of how far apart the links are at either end. Positive definite over any
/// set of links. @throws DomainError outside the ranges Source: M. Gudmundson, Electronics Letters 27 (1991)
/// 2145 (from memory), for one end; a product of it for both.
double shadowing_correlation(double apart_m, double length_m = kShadowingCorrelationM);

}  // namespace linkmargin
