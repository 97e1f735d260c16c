#include "linkmargin/prediction/fitted_shadowing.hpp"

#include "linkmargin/prediction/reading_prediction.hpp"

namespace linkmargin {

namespace {

ShadowingRegression fitted(const Site& site, const std::vector<Reading>& readings, Doors doors, int threads,
                           const KnownScene& known) {
  if (readings.empty()) return {};
  const ReadingLinks links = reading_links(site, readings, doors, known);
  const std::vector<PredictedReading> predicted = predict_readings(site, links.links, threads, known);
  std::vector<ReadingDeviation> deviations;
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const PredictedReading& link = predicted[links.of_reading[i]];
    const ReadLevel read = level_of(readings[i], site.reading, link.floor_dbm);
    deviations.push_back({read.kind,
                          read.level.value - link.level_dbm,
                          {0, link.device, link.hub, link.local_db, link.spot_db}});
  }
  return ShadowingRegression(deviations, threads);
}

}  // namespace

ShadowingRegression fitted_shadowing(const Site& site, const std::vector<Reading>& readings, Doors doors,
                                     int threads) {
  return fitted(site, readings, doors, threads, {});
}

ShadowingRegression fitted_shadowing(const Site& site, const std::vector<Reading>& readings, Doors doors,
                                     const Scene& scene, int threads) {
  return fitted(site, readings, doors, threads, {&scene, doors});
}

}  // namespace linkmargin
