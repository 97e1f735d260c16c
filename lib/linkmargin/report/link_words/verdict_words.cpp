#include "linkmargin/report/link_words/verdict_words.hpp"

#include "linkmargin/report/words/phrases.hpp"

namespace linkmargin {
namespace {

std::string device_words(const Wording& wording, const SiteVerdict& verdict) {
  if (verdict.devices == 0) return wording.say("verdict.none");
  const std::size_t good = verdict.devices - verdict.weak.size() - verdict.doubtful.size();
  if (good == verdict.devices) return wording.counted("verdict.all_good", good);
  std::string text = verdict.weak.empty() ? wording.say("verdict.none_weak")
                                          : wording.counted("verdict.weak", verdict.weak.size(),
                                                            {{"all", std::to_string(verdict.devices)},
                                                             {"names", wording.names(verdict.weak)}});
  if (!verdict.doubtful.empty()) {
    text += " " + wording.counted("verdict.doubtful", verdict.doubtful.size(),
                                  {{"names", wording.names(verdict.doubtful)}});
    if (verdict.lowest_chance < 1)
      text += " " + wording.say("verdict.lowest_chance", {{"chance", wording.chance(verdict.lowest_chance)}});
  }
  return good == 0 ? text : text + " " + wording.counted("verdict.others", good);
}

}  // namespace

std::string site_line(const Wording& wording, const LinkTable& table) {
  return wording.say("verdict.site",
                     {{"site", wording.name(table.site)}, {"doors", doors_phrase(wording, table.doors)}});
}

std::string verdict_words(const Wording& wording, const SiteVerdict& verdict) {
  std::string text = device_words(wording, verdict);
  const auto add = [&](std::string_view key, const std::vector<std::string>& names) {
    if (!names.empty()) text += " " + wording.say(key, {{"names", wording.names(names)}});
  };
  add("verdict.far_lower", verdict.far_lower);
  add("verdict.areas", verdict.weak_areas);
  add("verdict.full_hubs", verdict.full_hubs);
  if (!verdict.walls_counted) text += " " + wording.say("verdict.no_walls");
  return text;
}

}  // namespace linkmargin
