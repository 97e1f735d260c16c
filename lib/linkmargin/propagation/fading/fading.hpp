#pragma once

#include "linkmargin/base/range.hpp"

#include <limits>

/// Small-scale fading about the local mean: one steady wave and many weak ones (Rice). K is the steady power
/// over that of all others, in decibels; minus infinity is Rayleigh fading. Levels are in decibels over the
/// local mean power.
///
/// The same law, with a K of its own, holds for a level that moves in time because people do; then
/// rician_cdf(k_db, -margin_db) is the share of time in outage.
namespace linkmargin {

/// From 60 dB up (a deviation of 0.006 dB) K counts as 60 dB.
inline constexpr Range kRicianKDb{-std::numeric_limits<double>::infinity(),
                                  std::numeric_limits<double>::infinity(), "k_db",
                                  "definition; counted as 60 dB above 60"};
inline constexpr Range kFadeLevelDb{-1000, 1000, "level_db", "bounds of this library"};

/// K as a ratio of powers; 0 for minus infinity, at most 1e6.
/// @throws DomainError for NaN
double rician_k_ratio(double k_db);

/// Chance that the power lies under a level: noncentral chi-square with two degrees of freedom and
/// noncentrality 2 K, at 2 (1 + K) times the power.
/// @throws DomainError outside kRicianKDb, kFadeLevelDb
/// Accuracy: 1e-12 against SciPy; chances under 4e-19 may be given as 0 (tests/propagation/rician_scipy.py).
/// Source: definition; Rice 1944-45.
double rician_cdf(double k_db, double level_db);

/// Density of the level, per decibel. @throws as rician_cdf. Accuracy: relative 1e-10.
double rician_density_per_db(double k_db, double level_db);

/// Its natural logarithm, for K as a ratio, 0 to 1e6, and without checks: for loops and far tails.
double rician_log_density(double k, double level_db);

/// The level under which the power lies with a chance. @throws DomainError when chance is outside kChance
/// (propagation/fading/shadowing.hpp) or k_db outside kRicianKDb. Accuracy: 1e-9 dB.
double rician_quantile_db(double k_db, double chance);

/// Mean of the level in decibels; below 0, for it is the mean of logarithms.
///     (10 / ln 10) (ln K + E1(K) - ln(1 + K)),  Rayleigh -(10 / ln 10) gamma = -2.507 dB
/// @throws DomainError for NaN. Accuracy: 1e-10 dB.
/// Source: mean logarithm of a noncentral chi-square variable, Lapidoth and Moser 2003 (formula from memory,
/// tested against quadrature).
double rician_mean_db(double k_db);

/// Standard deviation of the level in decibels: Rayleigh (10 / ln 10) pi / sqrt 6 = 5.570 dB.
/// @throws DomainError for NaN. Accuracy: 1e-7 dB.
/// Source: definition, summed over the Poisson mixture of gamma variables that the power is.
double rician_deviation_db(double k_db);

}  // namespace linkmargin
