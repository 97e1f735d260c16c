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
};

/// Sets sigma_db, effective_sigma_db and the counts of the spans from the spread.
void count_by(LinearReadings& readings, const SharedSpread& spread);

/// What a first fit's residuals show of the correlation, and the spreads told apart by it.
SharedSpread shared_spread(LinearReadings readings, std::vector<ReadingSpread> spreads,
                           const ParameterPrior& prior);

}  // namespace linkmargin::calibrating
