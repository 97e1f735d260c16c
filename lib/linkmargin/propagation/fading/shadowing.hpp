#pragma once

#include "linkmargin/base/range.hpp"

/// Large-scale spread: the local mean of a level is normal in decibels about its prediction.
namespace linkmargin {

inline constexpr Range kShadowingSigmaDb{0, 100, "sigma_db", "bounds of this library"};
inline constexpr Range kShadowedLevelDb{-1e6, 1e6, "level", "bounds of this library"};

/// A chance that a margin can be asked for; 0 and 1 have none.
inline constexpr Range kChance{1e-12, 1 - 1e-12, "chance", "bounds of this library"};

/// Chance that a standard normal value is below x. Infinities give 0 and 1.
/// @throws DomainError for NaN. Accuracy: 1e-15. Source: definition, by the complementary error function.
double normal_cdf(double x);

/// The x for which normal_cdf(x) = chance. @throws DomainError outside kChance. Accuracy: 1e-12.
double normal_quantile(double chance);

/// Chance that a level spread normally about `median` reaches `threshold`, both in dBm or both in dB.
/// @param median,threshold  kShadowedLevelDb
/// @param sigma_db          kShadowingSigmaDb; with 0 the chance is 1 or 0; on the threshold is reached
/// @throws DomainError outside the ranges
double chance_of_reaching(double median, double threshold, double sigma_db);

/// How far the median must lie above a threshold for it to be reached with a chance: normal_quantile(chance)
/// sigma. Negative for a chance under one half.
/// @throws DomainError when chance is outside kChance or sigma_db outside kShadowingSigmaDb
double log_normal_margin_db(double chance, double sigma_db);

}  // namespace linkmargin
