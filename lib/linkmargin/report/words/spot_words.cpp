#include "linkmargin/report/words/spot_words.hpp"

#include "linkmargin/report/words/phrases.hpp"

namespace linkmargin {

std::string centimetres_text(double distance_m) {
  return with_unit(100 * distance_m, distance_m < 0.0195 ? 1 : 0, "cm");
}

std::string spots_words(const Wording& wording, const SpotTrial& trial) {
  const Language::Place far{"far", wording.length(trial.distance_m)};
  const Language::Place apart{"apart", wording.length(trial.step_m())};
  switch (trial.shape) {
    case SpotShape::four:
      return wording.say("spots.four", {far});
    case SpotShape::line:
      return wording.counted("spots.line", static_cast<std::size_t>((trial.spots - 1) / 2), {apart});
    case SpotShape::disc:
      return trial.spots == 7 ? wording.say("spots.ring", {far}) : wording.say("spots.rings", {apart, far});
    case SpotShape::step:
      break;
  }
  return wording.say("spots.step", {far});
}

std::string spots_words(const SpotTrial& trial) {
  const std::string far = centimetres_text(trial.distance_m);
  const std::string step = centimetres_text(trial.step_m());
  switch (trial.shape) {
    case SpotShape::four:
      return "Try four spots " + far + " from there: left, right, above and below, or forth and back.";
    case SpotShape::line:
      return "Try " + counted(static_cast<std::size_t>((trial.spots - 1) / 2), "spot", "spots") +
             " either way along its line, " + step + " apart.";
    case SpotShape::disc:
      return trial.spots == 7 ? "Try six spots all round, " + far + " from there."
                              : "Try six spots all round, " + step + " from there, then twelve, " + far +
                                    " from there.";
    case SpotShape::step:
      break;
  }
  return "Shift it by " + far + ".";
}

}  // namespace linkmargin
