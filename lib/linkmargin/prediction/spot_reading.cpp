#include "linkmargin/prediction/spot_reading.hpp"

#include "linkmargin/site/limits.hpp"

#include <algorithm>

namespace linkmargin {

ReadLevel read_level(const ReadingScale& scale, double percent, Dbm heard) {
  require_in(limits::kPercent, percent);
  const Dbm level = scale.zero + Db{percent / 100 * (scale.full - scale.zero).value};
  if (percent == limits::kPercent.min) return {ReadingKind::at_most, std::max(level, heard)};
  return {percent == limits::kPercent.max ? ReadingKind::at_least : ReadingKind::exact, level};
}

SpotReading spot_reading(const ReadingScale& scale, const Link& link, double percent) {
  const LinkBudget& way = link.lower();
  const ReadLevel read = read_level(scale, percent, way.sensitivity + way.noise_rise);
  return {
      .percent = percent, .level = read.level, .kind = read.kind, .over_predicted = read.level - way.level};
}

FadePosterior fade_posterior(const FadingModel& fading_model, const Link& link, const SpotReading& reading) {
  const double sigma_db = std::clamp(link.sigma_db, kLeastSigmaDb, kLocalMeanSigmaDb.max);
  const double reading_db = std::clamp(reading.over_predicted.value, kReadingDb.min, kReadingDb.max);
  return {fading_model.k_db(link.loss), sigma_db, reading_db, reading.kind};
}

}  // namespace linkmargin
