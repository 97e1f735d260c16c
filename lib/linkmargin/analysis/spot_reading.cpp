#include "linkmargin/analysis/spot_reading.hpp"

#include "linkmargin/site/limits.hpp"

#include <algorithm>

namespace linkmargin {

SpotReading spot_reading(const ReadingScale& scale, const Link& link, double percent) {
  require_in(limits::kPercent, percent);
  const Direction& way = link.lower();
  SpotReading reading{.percent = percent,
                      .level = scale.zero + Db{percent / 100 * (scale.full - scale.zero).value},
                      .kind = ReadingKind::exact,
                      .over_predicted = {}};
  if (percent == limits::kPercent.max) reading.kind = ReadingKind::at_least;
  if (percent == limits::kPercent.min) {
    reading.kind = ReadingKind::at_most;
    reading.level = std::max(reading.level, way.sensitivity + way.noise_rise);
  }
  reading.over_predicted = reading.level - way.level;
  return reading;
}

FadePosterior fade_posterior(const Reliability& reliability, const Link& link, const SpotReading& reading) {
  const double sigma_db = std::clamp(link.sigma_db, kLeastSigmaDb, kLocalMeanSigmaDb.max);
  const double reading_db = std::clamp(reading.over_predicted.value, kReadingDb.min, kReadingDb.max);
  return {reliability.k_db(link.loss.in_sight), sigma_db, reading_db, reading.kind};
}

}  // namespace linkmargin
