#include "linkmargin/analysis/calibration/calibration_fit.hpp"

#include <cmath>

namespace linkmargin::calibrating {

SharedSpread counted(SharedSpread spread) {
  spread.effective_sigma_db = effective_sigma_db(spread.readings, spread.correlation.length_m);
  return spread;
}

void count_by(LinearReadings& readings, const SharedSpread& spread) {
  const auto count = static_cast<Eigen::Index>(spread.readings.size());
  readings.sigma_db.resize(count);
  for (Eigen::Index i = 0; i < count; ++i) {
    const ReadingSpread& of = spread.readings[static_cast<std::size_t>(i)];
    readings.sigma_db[i] = std::hypot(of.local_db, of.spot_db);
  }
  readings.effective_sigma_db = spread.effective_sigma_db;
  for (ShownSpan& span : readings.spans) {
    span.count = 0;
    for (const Eigen::Index i : span.readings) {
      const double share = readings.sigma_db[i] / readings.effective_sigma_db[i];
      span.count += share * share;
    }
  }
}

SharedSpread refitted_spread(const LinearReadings& settled, const SharedSpread& before) {
  Eigen::VectorXd deviations = Eigen::VectorXd::Zero(settled.residual_db.size());
  for (Eigen::Index i = 0; i < deviations.size(); ++i) {
    if (settled.kinds[static_cast<std::size_t>(i)] == ReadingKind::exact)
      deviations[i] = settled.residual_db[i] / settled.sigma_db[i];
  }
  const ShadowingCorrelation found = fitted_shadowing_correlation(before.readings, deviations);
  return counted({split_variance(before.readings, found), found});
}

}  // namespace linkmargin::calibrating
