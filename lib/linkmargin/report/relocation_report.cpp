#include "linkmargin/report/relocation_report.hpp"

#include "linkmargin/report/json/json_values.hpp"
#include "linkmargin/report/words/cautions.hpp"
#include "linkmargin/report/words/nearby_words.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/report/words/remedy_words.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

std::string rung_word(RemedyStage rung) {
  switch (rung) {
    case RemedyStage::shift:
      return "shift";
    case RemedyStage::slide:
      return "slide";
    case RemedyStage::hub:
      return "hub";
    case RemedyStage::repeater:
      return "repeater";
    case RemedyStage::wire:
      return "wire";
  }
  return {};
}

std::string device_words(const Wording& wording, const Site& site, const Relocation& relocation,
                         const DeviceRelocation& device) {
  const double weak_below = relocation.reading.weak_below_percent;
  const auto percent = [&](double value) { return wording.percent(value, weak_below); };
  const Link& link = device.link;
  const ExpectedReading& expected = device.expected;
  const std::string low = percent(expected.low_percent), high = percent(expected.high_percent);
  std::string text =
      device.reading_percent
          ? wording.say(*device.reading_percent > 0 ? "visit.reads" : "visit.reads_nothing",
                        {{"read", percent(*device.reading_percent)},
                         {"percent", percent(link.weaker().reading_percent)}})
          : wording.say("relocate.predicted", {{"distance", wording.length(link.loss.distance_m)},
                                               {"hub", wording.hub(site, link.heard_by())},
                                               {"percent", percent(expected.percent)}});
  if (device.reading_percent) {
    if (device.stays) return text;  // what another spot would read is of no use to it
    text += " " + wording.say("relocate.other_spot", {{"percent", percent(expected.percent)}});
  }
  if (low != high) text += " " + wording.say("relocate.range", {{"low", low}, {"high", high}});
  return text + " " +
         wording.say("relocate.chance", {{"threshold", wording.number(weak_below)},
                                         {"chance", wording.chance(expected.pass_probability)}});
}

void add_device(std::vector<Block>& blocks, const Wording& wording, const Site& site,
                const Relocation& relocation, const DeviceRelocation& device) {
  blocks.emplace_back(Heading{device.link.device});
  blocks.emplace_back(Paragraph{device_words(wording, site, relocation, device)});
  BulletList list;
  for (const SkipReason left_out : device.left_out)
    list.items.push_back({skip_words(wording, device, left_out)});
  if (!device.remedies.empty()) {
    for (const std::string& text : mounting_words(wording, site, device)) list.items.push_back({text});
  }
  const Remedy* first = chosen(device);
  int number = 0;
  for (const Remedy& remedy : device.remedies) {
    list.items.push_back({remedy_line(wording, site, relocation, device, remedy),
                          std::to_string(++number) + ".", &remedy == first ? Tone::strong : Tone::plain});
  }
  blocks.emplace_back(std::move(list));
}

Paragraph verdict(const Wording& wording, const Relocation& relocation) {
  if (relocation.devices.empty())
    return {wording.say(relocation.weak_areas.empty() ? "relocate.no_weak" : "relocate.no_weak_device"),
            Tone::strong};
  std::vector<std::string> helped;
  std::vector<std::string> open;
  std::vector<std::string> unexplained;
  std::vector<std::string> again;
  for (const DeviceRelocation& device : relocation.devices) {
    const Remedy* remedy = chosen(device);
    if (device.verdict == ReadingVerdict::unexplained) {
      unexplained.push_back(device.link.device);
      continue;
    }
    if (std::ranges::find(device.left_out, SkipReason::read_again) != device.left_out.end())
      again.push_back(device.link.device);
    if (device.remedies.empty()) continue;  // nothing needs moving
    (remedy != nullptr && remedy->does() ? helped : open).push_back(device.link.device);
  }
  std::string text;
  const auto add = [&](std::string_view key, const std::vector<std::string>& names) {
    if (names.empty()) return;
    if (!text.empty()) text += " ";
    text += wording.say(key, {{"names", wording.names(names)}});
  };
  add("relocate.helped", helped);
  add("relocate.open", open);
  add("relocate.unexplained", unexplained);
  add("relocate.again", again);
  if (text.empty()) return {wording.say("left_out.needs_nothing"), Tone::strong};
  return {text, open.empty() && unexplained.empty() ? Tone::strong : Tone::weak};
}

/// Whether a reading of some device calls for a look at more than its place.
bool asks_for_cause(const DeviceRelocation& device) {
  return std::ranges::any_of(device.left_out, [](SkipReason reason) {
    return reason == SkipReason::low_reading || reason == SkipReason::look_for_cause;
  });
}

void add_order(std::vector<Block>& blocks, const Wording& wording, const Relocation& relocation) {
  const bool any = std::ranges::any_of(
      relocation.devices, [](const DeviceRelocation& device) { return !device.remedies.empty(); });
  if (!any) return;
  blocks.emplace_back(Paragraph{
      wording.say("relocate.order", {{"wanted", wording.chance(relocation.chance)},
                                     {"threshold", wording.number(relocation.reading.weak_below_percent)}})});
}

json::Value remedy_json(const Wording& wording, const Site& site, const Relocation& relocation,
                        const Remedy& remedy) {
  json::Value value{{"rung", rung_word(remedy.rung())},
                    {"radio", remedy.radio},
                    {"distance_m", json::number(remedy.distance_m)},
                    {"at_m", nullptr},
                    {"height_m", nullptr},
                    {"storey", nullptr},
                    {"reading_percent", nullptr},
                    {"reading_low_percent", nullptr},
                    {"reading_high_percent", nullptr},
                    {"pass_probability", nullptr},
                    {"enough", remedy.enough},
                    {"with_spots", nullptr},
                    {"gains", remedy.gains},
                    {"loses", remedy.loses},
                    {"edits", json::edits(remedy.edits)},
                    {"text", remedy_words(wording, site, relocation, remedy)}};
  if (remedy.place) {
    value["at_m"] = {json::number(remedy.place->at.x), json::number(remedy.place->at.y)};
    value["height_m"] = json::number(remedy.place->height_m);
    value["storey"] = site.storeys[remedy.place->storey].name;
  }
  if (remedy.with_spots) {
    value["with_spots"] = {{"distance_m", json::number(remedy.with_spots->distance_m)},
                           {"spots", remedy.with_spots->spots},
                           {"pass_probability", json::number(remedy.with_spots->pass_probability)},
                           {"enough", remedy.enough_with_spots}};
  }
  if (remedy.expected) {
    value["reading_percent"] = json::number(remedy.expected->percent);
    value["reading_low_percent"] = json::number(remedy.expected->low_percent);
    value["reading_high_percent"] = json::number(remedy.expected->high_percent);
    value["pass_probability"] = json::number(remedy.expected->pass_probability);
  }
  return value;
}

}  // namespace

Document relocation_document(const Language& language, const Site& site, const Relocation& relocation,
                             const TypedSite& typed) {
  const Wording wording(language);
  Document document;
  auto& blocks = document.blocks;
  blocks.emplace_back(Paragraph{wording.say(
      "verdict.site", {{"site", relocation.site}, {"doors", doors_phrase(wording, relocation.doors)}})});
  blocks.emplace_back(verdict(wording, relocation));
  if (!relocation.weak_areas.empty()) {
    blocks.emplace_back(
        Paragraph{wording.say("relocate.weak_areas", {{"names", wording.names(relocation.weak_areas)}}) +
                  " " + onward_words(wording, "check.place_for_areas", typed)});
  }
  if (relocation.nearby_readings > 0)
    blocks.emplace_back(Paragraph{nearby_phrase(wording, relocation.nearby_readings)});
  add_order(blocks, wording, relocation);
  for (const DeviceRelocation& device : relocation.devices)
    add_device(blocks, wording, site, relocation, device);
  if (!relocation.warnings.empty()) {
    blocks.emplace_back(Heading{wording.say("notes.site_cautions")});
    blocks.emplace_back(warning_list(language, relocation.warnings));
  }
  const auto first = std::ranges::find_if(relocation.devices, asks_for_cause);
  if (first != relocation.devices.end())
    blocks.emplace_back(Paragraph{onward_words(wording, "relocate.next", typed, first->link.device)});
  for (Block& line : closing_cautions(wording, {StandingCaution::reading_decides,
                                                StandingCaution::detectors_stay, StandingCaution::ladders}))
    blocks.push_back(std::move(line));
  return document;
}

Table relocation_rows(const Language& language, const Site& site, const Relocation& relocation) {
  const Wording wording(language);
  Table table;
  for (const char* key :
       {"device", "rung", "radio", "distance_m", "x_m", "y_m", "height_m", "storey", "reading_percent",
        "reading_low_percent", "reading_high_percent", "pass_probability", "enough", "text"}) {
    table.columns.push_back({.key = key});
  }
  for (const DeviceRelocation& device : relocation.devices) {
    for (const Remedy& remedy : device.remedies) {
      const auto& at = remedy.place;
      const auto& then = remedy.expected;
      const auto of_place = [&](auto number) { return at ? Cell{number(*at)} : Cell{}; };
      const auto of_reading = [&](double ExpectedReading::*number) {
        return then ? reading_cell((*then).*number, relocation.reading.weak_below_percent) : Cell{};
      };
      table.rows.push_back({{{device.link.device},
                             {rung_word(remedy.rung())},
                             {remedy.radio},
                             {remedy.distance_m},
                             of_place([](const Placement& place) { return place.at.x; }),
                             of_place([](const Placement& place) { return place.at.y; }),
                             of_place([](const Placement& place) { return place.height_m; }),
                             {at ? site.storeys[at->storey].name : std::string()},
                             of_reading(&ExpectedReading::percent),
                             of_reading(&ExpectedReading::low_percent),
                             of_reading(&ExpectedReading::high_percent),
                             then ? Cell{then->pass_probability} : Cell{},
                             flag_cell(remedy.enough),
                             {remedy_words(wording, site, relocation, remedy)}}});
    }
  }
  return table;
}

std::string relocation_json(const Language& language, const Site& site, const Relocation& relocation) {
  const Wording wording(language);
  json::Value devices = json::Value::array();
  for (const DeviceRelocation& device : relocation.devices) {
    json::Value steps = json::Value::array();
    for (const Remedy& remedy : device.remedies)
      steps.push_back(remedy_json(wording, site, relocation, remedy));
    json::Value notes = json::Value::array();
    for (const SkipReason left_out : device.left_out) notes.push_back(skip_words(wording, device, left_out));
    devices.push_back({{"device", device.link.device},
                       {"hub", device.link.hub},
                       {"read_percent", device.reading_percent ? json::number(*device.reading_percent)
                                                               : json::Value(nullptr)},
                       {"reading_percent", json::number(device.link.weaker().reading_percent)},
                       {"pass_probability", json::number(device.expected.pass_probability)},
                       {"steps", std::move(steps)},
                       {"notes", std::move(notes)}});
  }
  json::Value value{{"site", relocation.site},
                    {"frequency_mhz", json::number(mhz_from_hz(relocation.frequency_hz))},
                    {"doors", doors_word(relocation.doors)},
                    {"chance", json::number(relocation.chance)},
                    {"devices", std::move(devices)},
                    {"cautions", json::warnings(language, relocation.warnings)}};
  if (relocation.nearby_readings > 0) value["nearby_readings"] = relocation.nearby_readings;
  return json::text(value);
}

}  // namespace linkmargin
