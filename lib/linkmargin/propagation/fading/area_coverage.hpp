#pragma once

#include "linkmargin/base/range.hpp"

namespace linkmargin {

inline constexpr Range kCoverageExponent{0.01, 20, "exponent", "bounds of this library"};
inline constexpr Range kCoverageSigmaDb{0.01, 100, "sigma_db", "bounds of this library"};

/// Share of a disc's area where the level is expected to reach a threshold, from the chance at its edge. The
/// transmitter stands in the middle, the median level falls with 10 n log10(d), the local mean is normal in
/// decibels about it.
///
///     U = 1/2 [1 - erf a + exp((1 - 2 a b) / b^2) (1 - erf((1 - a b) / b))]
///     a = -Phi^-1(edge) / sqrt 2,   b = 10 n log10(e) / (sigma sqrt 2)
///
/// @param edge_chance  kChance of shadowing.hpp
/// @return in [edge_chance, 1]
/// @throws DomainError outside the ranges
/// Accuracy: 1e-12 against quadrature.
/// Source: Jakes (ed.), Microwave Mobile Communications, 1974, section 2.5 (section number from memory),
/// after Reudink; formula in several copies. Textbook charts (from memory) print 94 and 91 % where it
/// gives 90.7 and 86.2 %.
double area_coverage(double edge_chance, double exponent, double sigma_db);

/// The edge chance that gives that share. @param share  kChance; at least what an edge chance of 1e-12 gives
/// @throws DomainError outside the ranges; also when no edge chance gives so small a share. Accuracy: 1e-10
/// in share.
double edge_chance_of_coverage(double share, double exponent, double sigma_db);

}  // namespace linkmargin
