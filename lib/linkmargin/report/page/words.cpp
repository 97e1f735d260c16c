#include "linkmargin/report/page/words.hpp"

#include "linkmargin/report/words/advice.hpp"
#include "linkmargin/report/page/loss_waterfall.hpp"
#include "linkmargin/report/page/html.hpp"
#include "linkmargin/report/words/phrases.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin::page {
namespace {

constexpr std::size_t kNames = 6;

/// What takes less than this is not worth a word to a customer.
constexpr double kWorthWordDb = 2;

std::vector<std::string> names_of(const PageModel& content, Standing standing) {
  std::vector<std::string> names;
  for (const DevicePage& entry : content.entries()) {
    if (entry.standing == standing) names.push_back(html::name(entry.device->name));
  }
  return names;
}

bool all_read(const PageModel& content, Standing standing) {
  return std::ranges::all_of(content.entries(), [&](const DevicePage& entry) {
    return entry.standing != standing || entry.read_percent.has_value();
  });
}

std::string listed(const PageModel& content, const std::vector<std::string>& names) {
  return content.language().listed(names, kNames);
}

std::vector<std::string> weak_areas(const PageModel& content) {
  std::vector<std::string> names;
  for (const AreaCover& area : content.review().states.front().table.areas) {
    if (area.weak) names.push_back(html::name(area.area));
  }
  return names;
}

std::vector<std::string> full_hubs(const PageModel& content) {
  std::vector<std::string> names;
  for (const HubLoad& hub : content.review().states.front().table.hubs) {
    if (hub.over_capacity) names.push_back(html::name(hub.hub));
  }
  return names;
}

/// Things in the way, the one that costs most first.
std::vector<const LossItem*> things(const Link& link) {
  std::vector<const LossItem*> found;
  for (const LossItem& item : link.loss.items) {
    const bool thing = stands_in_the_way(item.cause);
    if (thing && item.loss_db >= kSmallDb) found.push_back(&item);
  }
  std::ranges::stable_sort(found,
                           [](const LossItem* a, const LossItem* b) { return a->loss_db > b->loss_db; });
  return found;
}

double sum_db(const std::vector<const LossItem*>& items) {
  double sum = 0;
  for (const LossItem* item : items) sum += item->loss_db;
  return sum;
}

/// What stands between, in a sentence.
std::string between_words(const PageModel& content, const Link& link) {
  const std::vector<const LossItem*> found = things(link);
  const std::string distance = content.length_text(link.loss.distance_m);
  const std::string bends = bends_phrase(content.language(), link.loss);
  if (found.empty() && !bends.empty())
    return content.say("cause.round", {{"distance", distance}, {"bends", html::name(bends)}});
  if (found.empty()) {
    return content.say(itemises(content.site().radio.model) ? "cause.in_sight" : "cause.not_itemised",
                       {{"distance", distance}});
  }
  const std::string first = thing_text(content, *found.front());
  const std::string second = found.size() > 1 ? thing_text(content, *found[1]) : std::string();
  if (distance_outweighs(link.loss))
    return content.say("cause.distance", {{"distance", distance}, {"thing", first}});
  if (found.size() == 1) return content.say("cause.only", {{"distance", distance}, {"thing", first}});
  const double others_db = sum_db(found) - found.front()->loss_db;
  const std::string count = std::to_string(found.size());
  if (found.size() > 2 && found.front()->loss_db > others_db) {
    return content.say("cause.more_than_all", {{"distance", distance},
                                               {"count", count},
                                               {"thing", first},
                                               {"others", std::to_string(found.size() - 1)}});
  }
  return content.say("cause.most",
                     {{"distance", distance}, {"count", count}, {"thing", first}, {"second", second}});
}

}  // namespace

Standing standing(const PageModel& content) {
  if (!names_of(content, Standing::weak).empty() || !weak_areas(content).empty() ||
      !full_hubs(content).empty())
    return Standing::weak;
  const bool sure = names_of(content, Standing::close).empty() && itemises(content.site().radio.model);
  return sure ? Standing::fine : Standing::close;
}

std::string verdict(const PageModel& content) {
  const std::size_t all = content.entries().size();
  if (all == 0) return content.say("verdict.none");
  const auto weak = names_of(content, Standing::weak);
  const auto close = names_of(content, Standing::close);
  const auto& language = content.language();
  const std::size_t well = all - weak.size() - close.size();
  std::string text =
      weak.empty() && close.empty() ? language.counted("verdict.all_well", all) : std::string();
  const auto add = [&text](const std::string& more) { text += (text.empty() ? "" : " ") + more; };
  if (!weak.empty()) {
    add(language.counted(all_read(content, Standing::weak) ? "verdict.weak_read" : "verdict.weak",
                         weak.size(), {{"all", std::to_string(all)}, {"names", listed(content, weak)}}));
  }
  if (!close.empty())
    add(language.counted("verdict.close", close.size(), {{"names", listed(content, close)}}));
  if (well > 0 && well < all) add(language.counted("verdict.others", well));
  if (const auto& low = content.review().far_lower; !low.empty()) {
    std::vector<std::string> names;
    for (const std::string& name : low) names.push_back(html::name(name));
    add(content.say("verdict.low", {{"names", listed(content, names)}}));
  }
  if (const auto areas = weak_areas(content); !areas.empty())
    add(content.say("verdict.areas", {{"names", listed(content, areas)}}));
  if (const auto hubs = full_hubs(content); !hubs.empty())
    add(content.say("verdict.full", {{"names", listed(content, hubs)}}));
  if (!itemises(content.site().radio.model)) add(content.say("verdict.no_walls"));
  return text;
}

std::string outlook_words(const PageModel& content, const DevicePage& entry) {
  const Link& link = *entry.link;
  const std::string percent = content.percent_text(told(link).reading_percent);
  const std::string low = content.percent_text(link.low_percent);
  const std::string high = content.percent_text(link.high_percent);
  const std::string hub = content.hub_text(link.hub);
  const auto say = [&](std::string_view key) {
    return content.say(key, {{"hub", hub},
                             {"percent", percent},
                             {"low", low},
                             {"high", high},
                             {"threshold", content.threshold_text()},
                             {"chance", content.chance_text(link.pass_probability)}});
  };
  if (link.weaker().below_sensitivity()) return say("outlook.deaf");
  const std::string standing = link.weak                                  ? "weak"
                               : link.pass_probability < kSureProbability ? "close"
                                                                          : "fine";
  return say("outlook." + standing) + " " +
         say(!has_range(link) ? "outlook.chance"
             : low == high    ? "outlook.one_value"
                              : "outlook.range");
}

std::string cause_words(const PageModel& content, const DevicePage& entry) {
  const Link& link = *entry.link;
  std::string text = between_words(content, link);
  const bool between = !things(link).empty();
  const double mount_db = device_mount_db(link);
  if (mount_db >= kBigMountDb) {
    text += " " + content.say("cause.mounting",
                              {{"points", content.language().number(content.points(mount_db), 0)}});
  }
  if (between &&
      (bends_db(link.loss) - diffuse_db(link.loss) <= -kWorthWordDb || diffuse_db(link.loss) >= kWorthWordDb))
    text += " " + content.say("cause.gains");
  return text;
}

std::optional<std::string> reading_words(const PageModel& content, const DevicePage& entry) {
  if (!entry.read_percent) return std::nullopt;
  const double read = *entry.read_percent;
  const double predicted = told(*entry.link).reading_percent;
  const auto say = [&](std::string_view key) {
    return content.say(key, {{"read", content.percent_text(read)},
                             {"percent", content.percent_text(predicted)},
                             {"threshold", content.threshold_text()}});
  };
  if (read >= content.threshold_percent()) {
    const auto& low = content.review().far_lower;
    return say(std::ranges::find(low, entry.device->name) != low.end() ? "reading.low" : "reading.enough");
  }
  if (entry.relocation == nullptr || !entry.relocation->verdict) return say("reading.weak");
  switch (*entry.relocation->verdict) {
    case ReadingVerdict::fade:
      return say("reading.fade");
    case ReadingVerdict::wall:
      return say("reading.wall");
    case ReadingVerdict::unexplained:
      return say("reading.unexplained");
    case ReadingVerdict::fine:
    case ReadingVerdict::better:
    case ReadingVerdict::low:
      break;
  }
  return say("reading.weak");
}

std::string other_spot_words(const PageModel& content, const DevicePage& entry) {
  if (entry.relocation == nullptr) return {};
  const ExpectedReading& expected = entry.relocation->expected;
  return content.say("reading.other_spot", {{"percent", content.percent_text(expected.percent)},
                                            {"low", content.percent_text(expected.low_percent)},
                                            {"high", content.percent_text(expected.high_percent)},
                                            {"threshold", content.threshold_text()},
                                            {"chance", content.chance_text(expected.pass_probability)}});
}

}  // namespace linkmargin::page
