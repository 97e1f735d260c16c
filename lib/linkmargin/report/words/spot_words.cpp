#include "linkmargin/report/words/spot_words.hpp"

#include <cmath>
#include <iterator>

namespace linkmargin {

std::string spots_words(const Wording& wording, const SpotTrial& trial) {
  const Language::Place far{"far", wording.length(trial.distance_m)};
  // Rounded down: all of them together stay within the reach.
  constexpr double kRoundM = 0.01;
  const double apart_m =
      trial.step_m() < kRoundM ? trial.step_m() : kRoundM * std::floor(trial.step_m() / kRoundM + 1e-6);
  const Language::Place apart{"apart", wording.length(apart_m)};
  if (trial.turned) return wording.say("spots.turned");
  if (trial.read > 0)
    return wording.counted("spots.left", static_cast<std::size_t>(trial.spots - trial.read), {far});
  switch (trial.shape) {
    case SpotShape::four:
      return wording.say(trial.setting == SpotSetting::floor    ? "spots.four_on_floor"
                         : trial.setting == SpotSetting::corner ? "spots.four_in_corner"
                                                                : "spots.four",
                         {far});
    case SpotShape::line:
      return wording.counted(trial.setting == SpotSetting::frame ? "spots.along_frame" : "spots.line",
                             static_cast<std::size_t>((trial.spots - 1) / 2), {apart});
    case SpotShape::disc:
      return trial.spots == 7 ? wording.say("spots.ring", {far}) : wording.say("spots.rings", {apart, far});
    case SpotShape::step:
      break;
  }
  return wording.say("spots.step", {far});
}

std::string spot_name(const Wording& wording, const SpotTrial& trial, std::size_t position) {
  const auto named = [&](const char* key, double far_m) {
    return wording.say(key, {{"far", wording.length(far_m)}});
  };
  if (trial.shape == SpotShape::line) {
    const std::size_t a_side = static_cast<std::size_t>(trial.spots - 1) / 2;
    const double far_m = trial.step_m() * static_cast<double>(position % a_side + 1);
    return named(position < a_side ? "spots.name.one_side" : "spots.name.other_side", far_m);
  }
  constexpr const char* kOnWall[] = {"spots.name.left", "spots.name.right", "spots.name.above",
                                     "spots.name.below"};
  constexpr const char* kInCorner[] = {"spots.name.one_wall", "spots.name.other_wall", "spots.name.above",
                                       "spots.name.below"};
  constexpr const char* kOnFloor[] = {"spots.name.left", "spots.name.right", "spots.name.forward",
                                      "spots.name.back"};
  if (trial.shape != SpotShape::four || position >= std::size(kOnWall))
    return named("spots.name.any", trial.distance_m);
  const auto& names = trial.setting == SpotSetting::floor    ? kOnFloor
                      : trial.setting == SpotSetting::corner ? kInCorner
                                                             : kOnWall;
  return named(names[position], trial.distance_m);
}

}  // namespace linkmargin
