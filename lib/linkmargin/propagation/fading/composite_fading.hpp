#pragma once

#include "linkmargin/base/range.hpp"

#include <vector>

namespace linkmargin {

/// sigma_db of the local mean, in this header and fade_posterior.hpp.
inline constexpr Range kLocalMeanSigmaDb{0, 40, "sigma_db", "bounds of this library"};

/// The level at one spot: a local mean, normal in decibels with deviation sigma_db, times Rician fading about
/// it. Levels are in decibels over the median of the local mean. Made once for a K; then each question is one
/// sum over some 20 to 60 terms: about one microsecond.
///
///     F(x) = integral f_K(y) Phi((x - y) / sigma) dy = integral phi(t) F_K(x - sigma t) dt
///
/// The first form, by the trapezoid rule over the fade, where sigma is wide against the steps of the fade;
/// else the second, over the local mean, with F_K from a table. Both integrands are smooth and vanish at
/// their ends, for which the trapezoid rule converges exponentially.
///
/// Accuracy: 1e-6 in probability for sigma 0 to 15 dB, K up to 20 dB, levels -60 to 20 dB (measured: 2e-7);
/// rising with the level to within 1e-9.
/// Source: definition; with Rayleigh fading it is the law of Suzuki, IEEE Transactions on Communications
/// 25(7), 1977.
class CompositeFading {
 public:
  /// @param k_db  kRicianKDb of fading.hpp. @throws DomainError for NaN
  explicit CompositeFading(double k_db);

  double k_db() const { return k_db_; }

  /// Chance that the level lies under level_db.
  /// @param level_db  kFadeLevelDb. @param sigma_db  kLocalMeanSigmaDb
  /// @throws DomainError outside the ranges
  double cdf(double level_db, double sigma_db) const;

  /// The level under which a spot lies with that chance.
  /// @throws DomainError when chance is outside kChance or sigma_db outside its range
  /// Accuracy: 1e-6 in probability between chances of 1e-5 and 1 - 1e-5.
  double quantile_db(double chance, double sigma_db) const;

 private:
  double over_fade(double level_db, double sigma_db) const;
  double over_mean(double level_db, double sigma_db) const;
  double fade_cdf(double level_db) const;

  struct Node {
    double level_db;
    double cdf;
    double density;  ///< per dB
    double slope;    ///< of the density, per dB^2
  };
  double k_db_;
  double mean_db_;  ///< of the fade
  double deviation_db_;
  double step_db_;               ///< between nodes
  std::vector<Node> nodes_;      ///< rising from where the chance is 2e-8
  std::vector<double> weights_;  ///< of every second node, the first with all that lies below; their sum is 1
};

}  // namespace linkmargin
