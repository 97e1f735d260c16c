#include "linkmargin/report/placement_report.hpp"
#include "linkmargin/report/words/wording.hpp"

namespace linkmargin {
namespace {

/// What is proved of a search in which the sum decides, once the weakest has what is enough.
std::string average_text(const Wording& wording, const PlacementAnswer& answer) {
  const double sum = answer.choices.empty() ? 0 : answer.choices.front().sum;
  return wording.say("placement.proof.average",
                     {{"bound", wording.number(answer.sum_bound, 2)}, {"sum", wording.number(sum, 2)}});
}

/// What a bound says of a choice that may not be the best; nothing where there is none.
std::string bound_text(const Wording& wording, const PlacementAnswer& answer) {
  if (!answer.bound_db) return {};
  if (answer.target_probability == 0) return " " + average_text(wording, answer);
  if (*answer.bound_db > 0)
    return " " + wording.say("placement.proof.gap", {{"gap", wording.decibels(*answer.bound_db)},
                                                     {"chance", wording.chance(answer.worst_bound)}});
  const std::string weakest =
      answer.target_probability < 1
          ? wording.say("placement.proof.enough", {{"chance", wording.chance(answer.target_probability)}})
          : wording.say("placement.proof.weakest");
  return " " + weakest + " " + average_text(wording, answer);
}

std::string infeasible_text(const Wording& wording, const PlacementAnswer& answer) {
  constexpr std::size_t most_names = 4;
  if (answer.missing_slots > 0)
    return wording.counted("placement.impossible.slots", static_cast<std::size_t>(answer.missing_slots));
  return wording.say("placement.impossible.place",
                     {{"names", wording.names(answer.without_place, most_names)}});
}

}  // namespace

std::string placement_proof(const Language& language, const PlacementAnswer& answer) {
  const Wording wording(language);
  const auto grid = [&](const char* key) {
    return wording.counted(key, answer.places, {{"step", wording.language().length(answer.proved_step_m)}});
  };
  std::string text;
  switch (answer.status) {
    case PlacementStatus::optimal:
      return grid("placement.proof.best");
    case PlacementStatus::bounded:
      text = answer.proved ? grid("placement.proof.best")
                           : grid("placement.proof.found") + bound_text(wording, answer);
      break;
    case PlacementStatus::stopped:
      if (answer.choices.empty()) return wording.say("placement.proof.stopped_empty");
      text = grid("placement.proof.stopped");
      break;
    case PlacementStatus::infeasible:
      return infeasible_text(wording, answer);
  }
  const bool coarser = answer.proved_step_m > answer.step_m * 1.001;
  if (!coarser) return text;
  return text + " " +
         wording.say("placement.proof.coarser", {{"step", wording.language().length(answer.step_m)}});
}

}  // namespace linkmargin
