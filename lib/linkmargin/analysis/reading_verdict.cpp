#include "linkmargin/analysis/reading_verdict.hpp"

#include "linkmargin/analysis/reach.hpp"
#include "linkmargin/propagation/fading.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

ReadingVerdict decide(const ReadingAnswer& answer, const ReadingScale& scale) {
  const double percent = answer.reading.percent;
  if (percent > 0 && percent >= scale.weak_below_percent) {
    if (answer.as_high_probability < kRareProbability) return ReadingVerdict::better;
    const bool bound = answer.reading.kind == ReadingKind::at_least;
    return !bound && answer.as_low_probability < kRareProbability ? ReadingVerdict::low : ReadingVerdict::fine;
  }
  if (answer.as_low_probability < kRareProbability) return ReadingVerdict::unexplained;
  const SpotTrial* best = answer.spots.choice();
  const bool shifting = best != nullptr && best->pass_probability >= kLikelyProbability;
  return shifting || answer.place_probability >= kLikelyProbability ? ReadingVerdict::fade
                                                                    : ReadingVerdict::wall;
}

}  // namespace

ReadingAnswer reading_verdict(const Reliability& reliability, const ReadingScale& scale, double frequency_hz,
                              const Link& link, double percent, const CentimetreOptions& options) {
  ReadingAnswer answer;
  answer.reading = spot_reading(scale, link, percent);
  const bool in_sight = link.loss.in_sight;
  const double k_db = reliability.k_db(in_sight);
  const double sigma_db = std::max(link.sigma_db, kLeastSigmaDb);
  answer.deviations = (answer.reading.over_predicted.value - rician_mean_db(k_db)) /
                      std::hypot(sigma_db, rician_deviation_db(k_db));
  answer.as_high_probability =
      reliability.chance(link.lower().level, answer.reading.level, sigma_db, in_sight);
  answer.as_low_probability = 1 - answer.as_high_probability;
  const FadePosterior posterior = fade_posterior(reliability, link, answer.reading);
  answer.shadow = posterior.shadow();
  answer.fade = posterior.fade();
  answer.place_probability = posterior.shadow_reaches(link.shortfall(scale).value);
  answer.spots = centimetres(reliability, scale, frequency_hz, link, &posterior, options);
  answer.verdict = decide(answer, scale);
  return answer;
}

bool is_far_lower(const Reliability& reliability, const ReadingScale& scale, const Link& link,
                  double percent) {
  const SpotReading reading = spot_reading(scale, link, percent);
  if (reading.kind == ReadingKind::at_least) return false;
  const double sigma_db = std::max(link.sigma_db, kLeastSigmaDb);
  return 1 - reliability.chance(link.lower().level, reading.level, sigma_db, link.loss.in_sight) <
         kRareProbability;
}

CentimetreOptions centimetre_options(const Site& site, const Link& link) {
  CentimetreOptions options;
  const auto device = std::ranges::find(site.devices, link.device, &Device::name);
  if (device == site.devices.end() || !device->may_move) return options;
  options.reach_m = reach_m(device->may_move).value_or(options.reach_m);
  options.along_line = std::holds_alternative<Mobility::Along>(device->may_move->reach);
  return options;
}

}  // namespace linkmargin
