#pragma once

#include "linkmargin/analysis/correlated_spread.hpp"
#include "linkmargin/analysis/map_fit.hpp"

#include <vector>

/// A fit of readings whose shadows hang together. Not installed.
namespace linkmargin::calibrating {

/// How far readings are off their predictions, and what of it near ones share.
struct SharedSpread {
  std::vector<ReadingSpread> readings;
  ShadowLikeness likeness;
};

/// Sets sigma_db, counted_db and the counts of the spans from the spread.
void count_by(LinearReadings& readings, const SharedSpread& spread);

/// What a first fit's residuals show of the likeness, and the spreads told apart by it.
SharedSpread shared_spread(LinearReadings readings, std::vector<ReadingSpread> spreads,
                           const ParameterPrior& prior);

}  // namespace linkmargin::calibrating
