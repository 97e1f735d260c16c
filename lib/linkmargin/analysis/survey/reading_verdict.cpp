#include "linkmargin/analysis/survey/reading_verdict.hpp"

#include "linkmargin/analysis/survey/spot_options.hpp"
#include "linkmargin/prediction/reach.hpp"
#include "linkmargin/propagation/fading/fading.hpp"
#include "linkmargin/site/mounting/mounting_rules.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

ReadingVerdict decide(const ReadingAnswer& answer, const ReadingScale& scale) {
  const double percent = answer.reading.percent;
  if (percent > 0 && percent >= scale.weak_below_percent) {
    if (answer.as_high_probability < kRareProbability) return ReadingVerdict::better;
    const bool bound = answer.reading.kind == ReadingKind::at_least;
    return !bound && answer.as_low_probability < kRareProbability ? ReadingVerdict::low
                                                                  : ReadingVerdict::fine;
  }
  if (answer.as_low_probability < kRareProbability) return ReadingVerdict::unexplained;
  const SpotTrial* best = answer.spots.choice();
  const bool shifting = best != nullptr && best->pass_probability >= kLikelyProbability;
  return shifting || answer.place_probability >= kLikelyProbability ? ReadingVerdict::fade
                                                                    : ReadingVerdict::wall;
}

bool is_beyond_fading(const ReadingAnswer& answer) {
  return answer.verdict == ReadingVerdict::unexplained && answer.fade.mean_db < -kDeepestFadeDb;
}

}  // namespace

ReadingAnswer reading_verdict(const FadingModel& fading_model, const ReadingScale& scale, double frequency_hz,
                              const Link& link, double percent, const SpotSearchOptions& options) {
  ReadingAnswer answer;
  answer.reading = spot_reading(scale, link, percent);
  const double k_db = fading_model.k_db(link.loss);
  const double sigma_db = std::max(link.sigma_db, kLeastSigmaDb);
  answer.deviations = (answer.reading.over_predicted.value - rician_mean_db(k_db)) /
                      std::hypot(sigma_db, rician_deviation_db(k_db));
  answer.as_high_probability = fading_model.chance(link.lower().level, answer.reading.level, sigma_db, k_db);
  answer.as_low_probability = 1 - answer.as_high_probability;
  const FadePosterior posterior = fade_posterior(fading_model, link, answer.reading);
  answer.shadow = posterior.shadow();
  answer.fade = posterior.fade();
  answer.place_probability = posterior.shadow_reaches(link.shortfall(scale).value);
  answer.spots = spot_search(fading_model, scale, frequency_hz, link, &posterior, options);
  answer.verdict = decide(answer, scale);
  answer.beyond_fading = is_beyond_fading(answer);
  return answer;
}

ReadingAnswer readings_verdict(const FadingModel& fading_model, const ReadingScale& scale,
                               double frequency_hz, const Link& link, std::span<const TriedSpot> read,
                               const SpotSearchOptions& options) {
  ReadingAnswer answer =
      reading_verdict(fading_model, scale, frequency_hz, link, read.front().percent, options);
  if (read.size() < 2) return answer;
  answer.tried = tried_spots(fading_model, scale, frequency_hz, link, read, options);
  if (!answer.tried) return answer;
  const TriedSpots& tried = *answer.tried;
  answer.fade = {answer.fade.mean_db + answer.shadow.mean_db - tried.shadow.mean_db,
                 tried.shadow.deviation_db};
  answer.shadow = tried.shadow;
  answer.place_probability = tried.place_probability;
  if (tried.reached)
    answer.verdict = ReadingVerdict::fine;
  else if (answer.verdict != ReadingVerdict::unexplained)
    answer.verdict = tried.goes_on() ? ReadingVerdict::fade : ReadingVerdict::wall;
  answer.beyond_fading = is_beyond_fading(answer);
  return answer;
}

bool is_far_lower(const FadingModel& fading_model, const ReadingScale& scale, const Link& link,
                  double percent) {
  const SpotReading reading = spot_reading(scale, link, percent);
  if (reading.kind == ReadingKind::at_least) return false;
  const double sigma_db = std::max(link.sigma_db, kLeastSigmaDb);
  return 1 - fading_model.chance(link.lower().level, reading.level, sigma_db, fading_model.k_db(link.loss)) <
         kRareProbability;
}

std::optional<double> enough_before(const Link& link, const ReadingScale& scale) {
  if (link.earlier_percent.empty()) return {};
  const double most = std::ranges::max(link.earlier_percent);
  return most > 0 && most >= scale.weak_below_percent ? std::optional(most) : std::nullopt;
}

SpotSearchOptions centimetre_options(const Site& site, const Link& link) {
  const auto device = std::ranges::find(site.devices, link.device, &Device::name);
  if (device == site.devices.end()) return {.most_spots = kFirstSpots};
  const auto known = site.profiles.find(device->profile);
  const Profile profile = known == site.profiles.end() ? Profile() : known->second;
  return spot_options(*device, profile, hanging_spot(site, device->place));
}

SpotSearchOptions spot_options(const Device& device, const Profile& profile, const HangingSpot& hangs) {
  SpotSearchOptions options{.most_spots = kFirstSpots};
  if (stays_by_rule(device, profile)) {
    options.reach_m = 0;
    return options;
  }
  if (profile.mounted_on == MountingSurface::ceiling) options.most_spots = kFirstCeilingSpots;
  options.may_turn = profile.may_turn;
  options.along_line =
      profile.mounted_on == MountingSurface::ceiling || profile.mounted_on == MountingSurface::frame;
  options.setting = spot_setting(profile, hangs);
  if (!device.may_move) return options;
  options.reach_m = reach_m(device.may_move).value_or(options.reach_m);
  if (std::holds_alternative<Mobility::Along>(device.may_move->reach)) options.along_line = true;
  return options;
}

SpotSetting spot_setting(const Profile& profile, const HangingSpot& hangs) {
  if (profile.mounted_on == MountingSurface::floor) return SpotSetting::floor;
  if (profile.mounted_on == MountingSurface::frame && std::holds_alternative<OnFrame>(hangs))
    return SpotSetting::frame;
  const auto* on_wall = std::get_if<OnWall>(&hangs);
  return on_wall != nullptr && on_wall->spot.distance_m < kCornerClearM ? SpotSetting::corner
                                                                        : SpotSetting::wall;
}

bool shifts_by_radius(const Device& device) {
  return device.may_move && std::holds_alternative<Mobility::Radius>(device.may_move->reach);
}

bool stays_by_rule(const Device& device, const Profile& profile) {
  return profile.fixed_by_rule && !shifts_by_radius(device);
}

}  // namespace linkmargin
