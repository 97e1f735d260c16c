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

/// K from spot to spot between two antennas of unknown orientation. What is scattered reaches an antenna
/// however it is turned; the one steady wave does so by the part of the field that both short dipoles share,
/// so that on many links it counts for less than its mean. The answer is the K of one Rician link whose power
/// varies as much as that of those links on average:
///     (K' / (1 + K'))^2 = mean over orientations of (K x / (1 + K x))^2,  x = 4.5 (t s)^2
/// t from 0 to 1 and s = sqrt(1 - c^2), c from 0 to 1, each as likely: a dipole's component along a fixed
/// direction, and the other's across the line.
/// @param steady_over_scattered  ratio of the mean powers over all orientations, >= 0; may be infinite
/// @return at least kLeastUnturnedKDb
/// @throws DomainError for NaN or a negative ratio
/// Accuracy: 0.01 dB of K for ratios up to 20 dB, from where it is calculated for 20 dB.
/// Source: own derivation from the definition of the variance of Rician power, (1 + 2 K) / (1 + K)^2.
double unknown_orientation_k_db(double steady_over_scattered);
inline constexpr double kLeastUnturnedKDb = -20;

/// ln(I0(x) exp(-x)) of the modified Bessel function, x >= 0.
/// Accuracy: relative 1e-10. Source: definition; over 500 Abramowitz and Stegun 9.7.1.
double log_scaled_bessel_i0(double x);

}  // namespace linkmargin
