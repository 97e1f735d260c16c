#include "linkmargin/report/words/failure_words.hpp"

namespace linkmargin {

BulletList failure_list(const Wording& wording, std::span<const SingleFailure> failures) {
  BulletList list;
  for (const SingleFailure& failure : failures) {
    const Language::Place station{"station", wording.name(failure.station)};
    std::string text;
    if (failure.all_lost) {
      text = wording.say("check.failure.all", {station});
    } else if (failure.lost.empty()) {
      text = wording.say("check.failure.none", {station});
    } else {
      text = wording.counted("check.failure.lost", failure.lost.size(),
                             {station, {"names", wording.names(failure.lost)}});
    }
    const auto add = [&](const char* key, const std::vector<std::string>& names) {
      if (!names.empty() && !failure.all_lost)
        text += " " + wording.say(key, {{"names", wording.names(names)}});
    };
    add("check.failure.doubtful", failure.doubtful);
    add("check.failure.areas", failure.areas);
    const bool bad = failure.all_lost || !failure.lost.empty() || !failure.areas.empty();
    list.items.push_back({text, bad ? "!" : "-", bad ? Tone::weak : Tone::plain});
  }
  return list;
}

}  // namespace linkmargin
