#include "linkmargin/report/words/learned_words.hpp"

#include <cmath>
#include <set>
#include <vector>

namespace linkmargin {

std::string learned_words(const Wording& wording, const Site& site, const Link& link) {
  std::vector<std::string> parts;
  const double offset_db = site.calibration ? site.calibration->offset_db : 0;
  if (offset_db != 0) {
    parts.push_back(wording.say(offset_db < 0 ? "learned.levels_lower" : "learned.levels_higher",
                                {{"by", wording.decibels(std::abs(offset_db))}}));
  }
  std::set<std::string> told;
  for (const LossItem& item : link.loss.items) {
    constexpr double nothing_db = 0.05;  // shown as 0.0
    if (std::abs(item.shift_db) < nothing_db || !told.insert(item.table_row).second) continue;
    parts.push_back(wording.say(item.shift_db > 0 ? "learned.loses_more" : "learned.loses_less",
                                {{"material", wording.name(wording.language().material(item.table_row))},
                                 {"by", wording.decibels(std::abs(item.shift_db))}}));
  }
  return parts.empty() ? std::string()
                       : wording.say("learned.counted", {{"findings", wording.listed(parts, parts.size())}});
}

std::string sure_words(const Wording& wording, const Link& link) {
  if (link.nearby_shift_db)
    return link.sigma_db < link.loss.sigma_db ? wording.say("learned.nearby_narrows") : std::string();
  const double variance = link.sigma_db * link.sigma_db - link.loss.sigma_db * link.loss.sigma_db;
  if (link.sigma_db == link.loss.sigma_db || variance <= 0) return {};
  return wording.say("learned.sure_to", {{"sigma", wording.decibels(std::sqrt(variance))}});
}

}  // namespace linkmargin
