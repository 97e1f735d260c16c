#include "linkmargin/report/page/words.hpp"

#include "linkmargin/base/sure_probability.hpp"
#include "linkmargin/prediction/weak_hop.hpp"
#include "linkmargin/report/document/rounding.hpp"
#include "linkmargin/report/link_words/cause_words.hpp"
#include "linkmargin/report/link_words/outlook_words.hpp"
#include "linkmargin/report/link_words/reading_words.hpp"
#include "linkmargin/report/link_words/verdict_words.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/report/words/remedy_words.hpp"

#include <algorithm>

namespace linkmargin::page {
namespace {

std::vector<std::string> names_of(const PageModel& content, Standing standing) {
  std::vector<std::string> names;
  for (const DevicePage& entry : content.entries()) {
    if (entry.standing == standing) names.push_back(entry.device->name);
  }
  return names;
}

std::vector<std::string> weak_areas(const PageModel& content) {
  std::vector<std::string> names;
  for (const AreaCover& area : content.review().states.front().table.areas) {
    if (area.weak) names.push_back(area.area);
  }
  return names;
}

std::vector<std::string> full_hubs(const PageModel& content) {
  std::vector<std::string> names;
  const LinkTable& table = content.review().states.front().table;
  for (const auto* loads : {&table.hubs, &table.repeater_loads}) {
    for (const HubLoad& hub : *loads) {
      if (hub.over_capacity) names.push_back(hub.hub);
    }
  }
  return names;
}

/// What a reading comes to; nothing for one that is weak where nobody asked why.
std::optional<ReadingVerdict> verdict_on(const PageModel& content, const DevicePage& entry) {
  if (*entry.read_percent < content.threshold_percent())
    return entry.relocation == nullptr ? std::nullopt : entry.relocation->verdict;
  const auto& low = content.review().far_lower;
  return std::ranges::find(low, entry.device->name) != low.end() ? ReadingVerdict::low : ReadingVerdict::fine;
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
  return verdict_words(content.wording(), {.devices = content.entries().size(),
                                           .weak = names_of(content, Standing::weak),
                                           .doubtful = names_of(content, Standing::close),
                                           .far_lower = content.review().far_lower,
                                           .weak_areas = weak_areas(content),
                                           .full_hubs = full_hubs(content),
                                           .walls_counted = itemises(content.site().radio.model)});
}

std::string doubt_words(const PageModel& content) {
  const DevicePage* least = nullptr;
  for (const DevicePage& entry : content.entries()) {
    if (entry.standing != Standing::close || entry.read_percent ||
        entry.link->told().reading_percent < content.threshold_percent())
      continue;
    if (least == nullptr || entry.link->pass_probability < least->link->pass_probability) least = &entry;
  }
  if (least == nullptr) return {};
  return content.say("verdict.why_doubtful",
                     {{"device", content.wording().name(least->device->name)},
                      {"percent", content.percent_text(least->link->told().reading_percent)},
                      {"threshold", content.threshold_text()},
                      {"chance", content.chance_text(least->link->pass_probability)},
                      {"wanted", content.chance_text(kSureProbability)}});
}

std::string station_words(const PageModel& content, const Link& link) {
  const std::string first = content.hub_text(link.heard_by());
  if (!link.onward) return first;
  return content.say("card.then", {{"first", first}, {"next", station_words(content, *link.onward)}});
}

std::string received_words(const PageModel& content, const Link& link) {
  std::string text = content.say("card.received", {{"stations", station_words(content, link)}});
  for (const Link* hop = link.onward.get(); hop != nullptr; hop = hop->onward.get()) {
    text += " " + content.say("card.hop", {{"from", content.hub_text(hop->device)},
                                           {"to", content.hub_text(hop->heard_by())},
                                           {"percent", content.percent_text(hop->told().reading_percent)}});
  }
  return text;
}

std::string outlook_words(const PageModel& content, const DevicePage& entry) {
  const Link& link = *entry.link;
  const Language::Place hub{"hub", content.hub_text(link.heard_by())};
  const Language::Place percent{"percent", content.percent_text(link.told().reading_percent)};
  if (link.weaker().below_sensitivity()) return content.say("outlook.no_reading", {hub});
  const std::string range =
      outlook_range(content.wording(), link, content.threshold_percent(), has_range(link));
  if (is_weak_farther_on(link)) {
    const std::string repeater = content.hub_text(first_weak_hop(link).device);
    return content.say("outlook.weak_farther_on", {hub, percent, {"repeater", repeater}}) + " " + range;
  }
  const std::string key = link.weak                                  ? "outlook.weak"
                          : link.pass_probability < kSureProbability ? "outlook.doubtful"
                                                                     : "outlook.good";
  return content.say(key, {hub, percent}) + " " + range;
}

std::string cause_words(const PageModel& content, const DevicePage& entry) {
  return linkmargin::cause_words(content.wording(), content.site(), *entry.link);
}

std::optional<std::string> reading_words(const PageModel& content, const DevicePage& entry) {
  if (!entry.read_percent) return std::nullopt;
  const std::string compared = content.say(
      "reading.compared", {{"read", content.percent_text(*entry.read_percent)},
                           {"percent", content.percent_text(entry.link->told().reading_percent)}});
  const std::optional<ReadingVerdict> verdict = verdict_on(content, entry);
  return compared + " " +
         (verdict ? reading_verdict_words(content.wording(), content.site(), *entry.link, *verdict)
                  : content.say("reading.weak", {{"threshold", content.threshold_text()}}));
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

DeviceRemedies device_remedies(const PageModel& content, const DevicePage& entry) {
  DeviceRemedies result;
  if (entry.relocation == nullptr) return result;
  const DeviceRelocation& found = *entry.relocation;
  for (const SkipReason reason : found.left_out) {
    if (reason == SkipReason::device_stays) {  // the file is not the reader's
      result.left_out.push_back(content.say("try.device_stays"));
      continue;
    }
    result.left_out.push_back(skip_words(content.wording(), found, reason));
  }
  if (found.remedies.empty()) return result;
  bool plan_changes_equipment = false;
  const std::vector<VisitStop>& stops = content.review().visit.stops;
  for (std::size_t i = 0; i < stops.size(); ++i) {
    plan_changes_equipment = plan_changes_equipment || std::holds_alternative<SharedWork>(stops[i].work);
    const auto* work = std::get_if<DeviceWork>(&stops[i].work);
    if (work != nullptr && work->device == entry.device->name) result.stop = i + 1;
  }
  const Remedy* first = chosen(found);
  for (const std::string& text : mounting_words(content.wording(), content.site(), found))
    result.items.push_back({text});
  for (const Remedy& remedy : found.remedies) {
    if (is_of_equipment(remedy.kind) && plan_changes_equipment)
      continue;  // the plan says where, for all devices
    result.items.push_back({content.remedy_text(remedy),
                            &remedy == first ? chosen_words(content.wording(), remedy) : std::string()});
  }
  return result;
}

}  // namespace linkmargin::page
