#include "linkmargin/report/what_if/what_if_words.hpp"

#include "linkmargin/report/document/rounding.hpp"
#include "linkmargin/report/words/codes/part_words.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace linkmargin {
namespace {

constexpr double kLeastMovePercent = 1;

double moved_percent(const DeviceChange& device) {
  return device.before_percent && device.after_percent
             ? std::abs(*device.after_percent - *device.before_percent)
             : 0;
}

/// Of `names` those that `others` lack.
std::vector<std::string> beyond(const std::vector<std::string>& names,
                                const std::vector<std::string>& others) {
  std::vector<std::string> own;
  for (const std::string& name : names) {
    if (std::ranges::find(others, name) == others.end()) own.push_back(name);
  }
  return own;
}

/// Whether a device, area or hub fails that did not, or fails no more.
bool crosses(const SiteSummary& site, const CaseChange& of) {
  const CaseChange& before = site.cases.front();
  return !of.turns_weak().empty() || !of.recovers().empty() || of.weak_areas != before.weak_areas ||
         of.over_capacity != before.over_capacity;
}

/// Null where no reading moves by a percent.
const DeviceChange* most_moved(const CaseChange& of) {
  const auto most = std::ranges::max_element(of.devices, {}, moved_percent);
  return most == of.devices.end() || moved_percent(*most) < kLeastMovePercent ? nullptr : &*most;
}

/// How much is wrong, then how strong the weakest reading is: the smaller, the better.
std::pair<std::size_t, double> badness(const SiteSummary& site, const CaseChange& of) {
  return {of.weak_count + of.weak_areas.size() + of.over_capacity.size(),
          -whole_percent(of.worst_reading_percent, site.reading.weak_below_percent)};
}

/// "hall keypad (52 to 33 %)"
std::string device_words(const Wording& wording, const SiteSummary& site, const DeviceChange& device) {
  const double threshold = site.reading.weak_below_percent;
  const Language::Place name{"device", wording.name(device.device)};
  const Language::Place after{"after", wording.percent(*device.after_percent, threshold)};
  if (!device.before_percent) return wording.say("what_if.changes.new", {name, after});
  return wording.say("what_if.changes.moved",
                     {name, after, {"before", wording.percent(*device.before_percent, threshold)}});
}

std::string devices_words(const Wording& wording, const SiteSummary& site, const CaseChange& of,
                          const std::vector<std::string>& names) {
  std::vector<std::string> texts;
  for (const std::string& name : names)
    texts.push_back(device_words(wording, site, *std::ranges::find(of.devices, name, &DeviceChange::device)));
  return wording.listed(texts);
}

/// How the weakest reading changes; nothing where it does not.
std::string weakest_words(const Wording& wording, const SiteSummary& site, const CaseChange& of) {
  const CaseChange& before = site.cases.front();
  const double threshold = site.reading.weak_below_percent;
  const std::string then = wording.percent(of.worst_reading_percent, threshold);
  const std::string now = wording.percent(before.worst_reading_percent, threshold);
  if (then == now || of.worst_device.empty() || before.worst_device.empty()) return {};
  const bool same = of.worst_device == before.worst_device;
  return wording.say(same ? "what_if.weakest" : "what_if.weakest_other",
                     {{"device", wording.name(of.worst_device)},
                      {"device_before", wording.name(before.worst_device)},
                      {"after", then},
                      {"before", now}});
}

std::string verdict_words(const Wording& wording, const SiteSummary& site, const char* key,
                          const CaseChange& of) {
  const std::string weakest = weakest_words(wording, site, of);
  std::string effect = crosses(site, of) || weakest.empty() ? effect_words(wording, site, of) : std::string();
  if (!weakest.empty()) effect = weakest + (effect.empty() ? "" : " ") + effect;
  return wording.say(key, {{"change", wording.name(of.name)}, {"effect", effect}});
}

std::string settings_words(const Wording& wording, const WhatIfSummary& summary) {
  const std::size_t changes = summary.cases.size() - 1;
  const Language::Place sites{"sites", std::to_string(summary.sites)};
  if (summary.sites == 1) {
    return changes == 0 ? wording.say("what_if.settings.site")
                        : wording.counted("what_if.settings.site_changes", changes);
  }
  return changes == 0 ? wording.say("what_if.settings.sites", {sites})
                      : wording.counted("what_if.settings.sites_changes", changes, {sites});
}

}  // namespace

bool makes_no_difference(const SiteSummary& site, const CaseChange& of) {
  return of.same_figures || (!crosses(site, of) && most_moved(of) == nullptr);
}

std::string effect_words(const Wording& wording, const SiteSummary& site, const CaseChange& of) {
  if (of.same_figures) return wording.say("what_if.changes.same_figures");
  std::string text;
  const auto add = [&](const std::string& sentence) { text += (text.empty() ? "" : " ") + sentence; };
  const auto devices = [&](const char* key, const std::vector<std::string>& names) {
    if (!names.empty())
      add(wording.counted(key, names.size(), {{"names", devices_words(wording, site, of, names)}}));
  };
  const auto areas = [&](const char* key, const std::vector<std::string>& names) {
    if (!names.empty()) add(wording.counted(key, names.size(), {{"names", wording.names(names)}}));
  };
  const auto hubs = [&](const char* key, const std::vector<std::string>& names) {
    if (!names.empty()) add(wording.say(key, {{"names", wording.names(names)}}));
  };
  const CaseChange& before = site.cases.front();
  devices("what_if.changes.turns_weak", of.turns_weak());
  devices("what_if.changes.recovers", of.recovers());
  areas("what_if.changes.areas_lost", beyond(of.weak_areas, before.weak_areas));
  areas("what_if.changes.areas_won", beyond(before.weak_areas, of.weak_areas));
  hubs("what_if.changes.over_capacity", beyond(of.over_capacity, before.over_capacity));
  hubs("what_if.changes.room_again", beyond(before.over_capacity, of.over_capacity));
  const DeviceChange* most = most_moved(of);
  if (text.empty() && most != nullptr)
    text = wording.say("what_if.changes.largest", {{"device", device_words(wording, site, *most)}});
  return text;
}

std::string best_words(const Wording& wording, const SiteSummary& site) {
  if (site.cases.size() < 2) return {};
  const CaseChange& best =
      *std::ranges::min_element(site.cases, {}, [&](const CaseChange& of) { return badness(site, of); });
  if (best.name.empty()) return wording.say("what_if.none_better");
  return verdict_words(wording, site, "what_if.best", best);
}

std::string worst_words(const Wording& wording, const SiteSummary& site) {
  if (site.cases.size() < 2) return {};
  const CaseChange& worst =
      *std::ranges::max_element(site.cases, {}, [&](const CaseChange& of) { return badness(site, of); });
  return worst.name.empty() ? std::string() : verdict_words(wording, site, "what_if.worst", worst);
}

std::string no_difference_words(const Wording& wording, const SiteSummary& site) {
  std::vector<std::string> names;
  for (const CaseChange& of : site.cases) {
    if (!of.name.empty() && makes_no_difference(site, of)) names.push_back(of.name);
  }
  return names.empty() ? std::string()
                       : wording.say("what_if.no_difference", {{"names", wording.names(names)}});
}

std::string swing_words(const Wording& wording, const Sensitivity& of) {
  switch (of.kind) {
    case Sensitivity::Kind::swept:
      return of.path;
    case Sensitivity::Kind::element:
      return wording.say("what_if.sensitivity.loss", {{"part", part_text(wording.language(), of.part)}});
    case Sensitivity::Kind::model:
      return wording.say("what_if.sensitivity.model");
    case Sensitivity::Kind::parameter:
      return wording.say("what_if.sensitivity.parameter");
    case Sensitivity::Kind::spot:
      return wording.say("what_if.sensitivity.spot");
  }
  return {};
}

std::string case_name(const Wording& wording, const std::string& name) {
  return name.empty() ? wording.say("what_if.as_it_is") : name;
}

std::string runs_words(const Wording& wording, const WhatIfSummary& summary) {
  const Language::Place settings{"settings", settings_words(wording, summary)};
  const std::uint64_t all = summary.sites * summary.cases.size();
  if (summary.runs <= all) return wording.counted("what_if.runs", summary.runs, {settings});
  return wording.say(
      "what_if.runs_each",
      {{"runs", std::to_string(summary.runs)}, settings, {"each", std::to_string(summary.runs / all)}});
}

std::span<const Sensitivity> worth_swings(const SiteSummary& site) {
  constexpr std::size_t most = 12;
  constexpr double least_percent = 0.5;
  std::size_t count = 0;
  while (count < std::min(most, site.sensitivity.size()) &&
         site.sensitivity[count].swing_percent() >= least_percent)
    ++count;
  return {site.sensitivity.data(), count};
}

}  // namespace linkmargin
