#pragma once

#include "linkmargin/analysis/calibration/posterior_fit.hpp"
#include "linkmargin/prediction/uncertainty/correlated_spread.hpp"

#include <vector>

/// A fit of readings whose shadows hang together. Not installed.
namespace linkmargin::calibrating {

/// How far readings are off their predictions, and what of it near ones share.
struct SharedSpread {
  std::vector<ReadingSpread> readings;
  ShadowingCorrelation correlation;
  Eigen::VectorXd effective_sigma_db{};  ///< of the readings, see effective_sigma_db()
};

/// With effective_sigma_db, which takes time with the square of the readings and serves every look.
SharedSpread counted(SharedSpread spread);

/// Sets sigma_db, effective_sigma_db and the counts of the spans from the spread, a counted one.
void count_by(LinearReadings& readings, const SharedSpread& spread);

/// What the residuals of a fit that has settled show of the correlation, and the spreads told apart by it.
/// For how sure the fit is, not for the fit: what the plan has wrong looks like shadows that are alike far
/// and wide, and would make many readings count as few.
SharedSpread refitted_spread(const LinearReadings& settled, const SharedSpread& before);

}  // namespace linkmargin::calibrating
