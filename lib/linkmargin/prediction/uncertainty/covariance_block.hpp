#pragma once

#include "linkmargin/prediction/uncertainty/reading_spread.hpp"

#include <Eigen/Core>

#include <span>
#include <vector>

namespace linkmargin {

/// Readings that may have something in common, and the covariance of their local means.
struct CovarianceBlock {
  std::vector<Eigen::Index> rows;  ///< their positions
  Eigen::MatrixXd local_db2;       ///< lower triangle and upper
};

/// How near two readings' places are is correlation(); hubs farther apart than
/// CorrelatedSpread::kHubsApartLengths correlation lengths, and what hangs on them, have nothing in common.
std::vector<CovarianceBlock> covariance_blocks(std::span<const ReadingSpread> readings, double length_m);

}  // namespace linkmargin
