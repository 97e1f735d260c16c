#pragma once

#include "linkmargin/prediction/uncertainty/covariance_block.hpp"
#include "linkmargin/prediction/uncertainty/reading_spread.hpp"
#include "linkmargin/propagation/fading/shadowing_correlation.hpp"

#include <Eigen/Core>

#include <cstddef>
#include <span>
#include <vector>

namespace linkmargin {

/// How alike two readings' local means are off their predictions.
double correlation(const ReadingSpread& a, const ReadingSpread& b, double length_m);

/// The deviation with which a reading counts among many, for a fit that weighs each by itself: the root of
/// what it shares with all, itself included. Ten readings of one spot so count together as one local mean and
/// ten spots; the mean of many is known just as well as their whole covariance says, and a wrong correlation
/// spoils no estimate, only its deviation.
Eigen::VectorXd effective_sigma_db(std::span<const ReadingSpread> readings, double length_m);

/// How local means hang together, as readings show it.
struct ShadowingCorrelation {
  double length_m = kShadowingCorrelationM;
  double local_share =
      1;  ///< of the local means' deviations that is alike for near readings; the rest is spots'
};

/// What the readings' residuals show, held to the default length within a factor of two and to a share of 1
/// within a fifth (one deviation each): from the products of residuals of near links against correlation().
/// @param deviations  of each reading, in its own deviations, 0 for none; outliers are cut to 3
ShadowingCorrelation fitted_shadowing_correlation(std::span<const ReadingSpread> readings,
                                                  const Eigen::VectorXd& deviations);

/// The spreads with what is not alike moved from the local means to the spots; each reading's own stays.
std::vector<ReadingSpread> split_variance(std::span<const ReadingSpread> readings,
                                          const ShadowingCorrelation& correlation);

/// The inverse of a covariance of readings, for very many questions about few of them each.
class CovarianceInverse {
 public:
  Eigen::VectorXd column(Eigen::Index reading) const;
  /// Of a vector that is 0 but for some readings: its product with the inverse times itself.
  double squared(std::span<const Eigen::Index> readings, const Eigen::VectorXd& values) const;
  double at(Eigen::Index one, Eigen::Index other) const;

 private:
  friend class CorrelatedSpread;
  struct Place {
    std::size_t block;
    Eigen::Index row;
  };
  std::vector<CovarianceBlock> blocks_;  // the inverse in place of the covariance
  std::vector<Place> place_;             // of each reading
};

/// The covariance of many readings off their predictions, with its Cholesky factor: local means hang together
/// by shadowing_correlation() at both ends, spots do not. Hubs farther apart than kHubsApartLengths
/// correlation lengths, and what hangs on them, are taken to have nothing in common, which keeps the factor
/// in blocks.
class CorrelatedSpread {
 public:
  static constexpr double kHubsApartLengths = 4;

  /// @param readings  spot_db > 0, local_db >= 0. Time and memory go with the cube and square of the readings
  /// of the largest block: 1,000 of one hub take some 40 ms, 5,000 some 4 s.
  /// @throws DomainError when a spread is not so
  explicit CorrelatedSpread(std::span<const ReadingSpread> readings,
                            double length_m = kShadowingCorrelationM);

  /// The same of blocks made before.
  CorrelatedSpread(const std::vector<CovarianceBlock>& blocks, std::span<const ReadingSpread> readings);

  /// Takes twice the time of the factor more.
  CovarianceInverse inverse() const;

  Eigen::Index size() const { return static_cast<Eigen::Index>(sigma_db_.size()); }

  /// Deviation of each reading by itself.
  const Eigen::VectorXd& sigma_db() const { return sigma_db_; }

  /// The factor's inverse times each column: what it makes of such readings is uncorrelated, with variance 1.
  /// @param columns  size() rows
  Eigen::MatrixXd whitened(const Eigen::MatrixXd& columns) const;

  /// The inverse of the transposed factor times each column.
  Eigen::MatrixXd back(const Eigen::MatrixXd& columns) const;

 private:
  struct Block {
    std::vector<Eigen::Index> rows;
    Eigen::MatrixXd factor;  ///< lower triangle
  };
  std::vector<Block> blocks_;
  Eigen::VectorXd sigma_db_;
};

}  // namespace linkmargin
