#include "linkmargin/report/link_words/reading_looks.hpp"

#include "linkmargin/report/words/phrases.hpp"

#include <cmath>

namespace linkmargin {
namespace {

/// The other hub whose predicted reading is nearest to the one taken; null where there is no other.
const Link* nearest_other(const LinkTable& table, const Link& link, double percent) {
  const Link* nearest = nullptr;
  const auto off = [&](const Link& other) { return std::abs(other.lower().reading_percent - percent); };
  for (const Link& other : table.links) {
    if (other.device != link.device || other.heard_by() == link.heard_by()) continue;
    if (nearest == nullptr || off(other) < off(*nearest)) nearest = &other;
  }
  return nearest;
}

}  // namespace

std::vector<std::string> reading_looks(const Wording& wording, const Site& site, const LinkTable& table,
                                       const Link& link, const ReadingAnswer& answer) {
  std::vector<std::string> texts{
      wording.say("looks.person"), wording.say("looks.battery"),
      wording.say(table.doors == Doors::armed ? "looks.doors_armed" : "looks.doors_open")};
  if (const Link* other = nearest_other(table, link, answer.reading.percent)) {
    const double percent = other->lower().reading_percent;
    texts.push_back(wording.say("looks.other_hub",
                                {{"hub", wording.hub(site, other->heard_by())},
                                 {"percent", wording.percent(percent, table.reading.weak_below_percent)}}));
  } else {
    texts.push_back(wording.say("looks.enrolment"));
  }
  for (const char* key : {"looks.metal", "looks.aerials", "looks.plan", "looks.swap"})
    texts.push_back(wording.say(key));
  return texts;
}

}  // namespace linkmargin
