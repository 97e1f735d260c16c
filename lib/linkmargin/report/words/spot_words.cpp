#include "linkmargin/report/words/spot_words.hpp"

namespace linkmargin {

std::string spots_words(const Wording& wording, const SpotTrial& trial) {
  const Language::Place far{"far", wording.length(trial.distance_m)};
  const Language::Place apart{"apart", wording.length(trial.step_m())};
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
      return wording.counted("spots.line", static_cast<std::size_t>((trial.spots - 1) / 2), {apart});
    case SpotShape::disc:
      return trial.spots == 7 ? wording.say("spots.ring", {far}) : wording.say("spots.rings", {apart, far});
    case SpotShape::step:
      break;
  }
  return wording.say("spots.step", {far});
}

}  // namespace linkmargin
