#include "linkmargin/report/relocation_report.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/words/advice.hpp"
#include "linkmargin/report/words/cautions.hpp"
#include "linkmargin/report/json/json_values.hpp"
#include "linkmargin/report/words/nearby_words.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/report/document/rounding.hpp"

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

std::string percent_text(const Relocation& relocation, double percent) {
  return fixed_text(whole_percent(percent, relocation.reading.weak_below_percent), 0);
}

std::string threshold_text(const Relocation& relocation) {
  return shortest_text(relocation.reading.weak_below_percent) + " %";
}

/// "about 52 % (30 to 70 %), chance 92 in 100"
std::string expected_words(const Relocation& relocation, const ExpectedReading& expected) {
  const std::string low = percent_text(relocation, expected.low_percent);
  const std::string high = percent_text(relocation, expected.high_percent);
  return "about " + percent_text(relocation, expected.percent) + " %" +
         (low == high ? "" : " (nine in ten between " + low + " and " + high + " %)") + ", chance " +
         chance_text(expected.pass_probability);
}

/// What follows the words of a remedy.
std::string outcome_words(const Relocation& relocation, const Remedy& remedy) {
  if (!remedy.expected) return {};
  const std::string short_of = remedy.enough ? "" : "; " + chance_text(relocation.chance) + " was asked for";
  if (remedy.trial) {
    return " Chance that the best of them reaches " + threshold_text(relocation) + ": " +
           chance_text(remedy.expected->pass_probability) + short_of + ".";
  }
  return " Then " + expected_words(relocation, *remedy.expected) + short_of + ".";
}

std::string remedy_text(const Site& site, const Relocation& relocation, const DeviceRelocation& device,
                        const Remedy& remedy) {
  return remedy_words(site, relocation, device, remedy) + outcome_words(relocation, remedy);
}

std::string left_out_words(SkipReason left_out) {
  switch (left_out) {
    case SkipReason::needs_nothing:
      return "Nothing needs moving.";
    case SkipReason::low_reading:
      return "What was read is enough, but far lower than predicted: something is wrong. 'explain' with --reading "
             "lists what to look at.";
    case SkipReason::look_for_cause:
      return "The plan does not explain so low a reading. Look for the cause first (battery, enrolment, "
             "metal, a door); "
             "'explain' with --reading lists what to look at. What follows is for when none is found.";
    case SkipReason::shift_will_not_do:
      return "Shifting by centimetres will not do: even the best spot within reach has a chance under 20 "
             "in 100.";
    case SkipReason::ruled_place:
      return "Its place is ruled by more than radio (fixed_by_rule in its profile): more than centimetres is "
             "not proposed, and even those only as far as its own rules allow.";
    case SkipReason::device_stays:
      return "By the site file the device stays where it is (no may_move).";
    case SkipReason::hubs_stay:
      return "By the site file no hub may move (no may_move).";
  }
  return {};
}

std::string device_words(const Relocation& relocation, const DeviceRelocation& device) {
  const Link& link = device.link;
  const std::string predicted = percent_text(relocation, link.weaker().reading_percent);
  if (!device.reading_percent) {
    return "With hub " + quoted_name(link.hub) + ", " + with_unit(link.loss.distance_m, 1, "m") +
           " away, it should read " + expected_words(relocation, device.expected) + ".";
  }
  return "It was read at " + shortest_text(*device.reading_percent) + " %, where " + predicted +
         " % was predicted. Another spot about there should read " +
         expected_words(relocation, device.expected) + ".";
}

void add_device(std::vector<Block>& blocks, const Site& site, const Relocation& relocation,
                const DeviceRelocation& device) {
  blocks.emplace_back(Heading{device.link.device});
  blocks.emplace_back(Paragraph{device_words(relocation, device)});
  BulletList list;
  for (const SkipReason left_out : device.left_out) list.items.push_back({left_out_words(left_out)});
  if (!device.remedies.empty()) {
    for (const std::string& text : mounting_advice(site, device.link)) list.items.push_back({text});
  }
  const Remedy* first = chosen(device);
  int number = 0;
  for (const Remedy& remedy : device.remedies) {
    const std::string text = remedy_text(site, relocation, device, remedy);
    const bool takes = &remedy == first;
    list.items.push_back({text + (!takes          ? ""
                                  : remedy.enough ? " To be tried first."
                                                  : " The best without buying anything."),
                          std::to_string(++number) + ".", takes ? Tone::strong : Tone::plain});
  }
  blocks.emplace_back(std::move(list));
}

Paragraph verdict(const Relocation& relocation) {
  if (relocation.devices.empty()) return {"No device is weak: nothing needs moving.", Tone::strong};
  std::vector<std::string> helped;
  std::vector<std::string> open;
  std::vector<std::string> unexplained;
  for (const DeviceRelocation& device : relocation.devices) {
    const Remedy* remedy = chosen(device);
    if (device.remedies.empty()) continue;  // nothing needs moving
    if (device.verdict == ReadingVerdict::unexplained) {
      unexplained.push_back(device.link.device);
      continue;
    }
    (remedy != nullptr && remedy->enough ? helped : open).push_back(device.link.device);
  }
  constexpr std::size_t names = 6;
  if (helped.empty() && open.empty() && unexplained.empty()) return {"Nothing needs moving.", Tone::strong};
  std::string text;
  if (!helped.empty()) text = "Helped without buying anything: " + listed(helped, names) + ".";
  if (!open.empty())
    text += (text.empty() ? "" : " ") + std::string("Moving alone is not enough for ") + listed(open, names) +
            ".";
  if (!unexplained.empty()) {
    text += (text.empty() ? "" : " ") + std::string("Look for the cause first at ") +
            listed(unexplained, names) + ".";
  }
  return {text, open.empty() && unexplained.empty() ? Tone::strong : Tone::weak};
}

json::Value remedy_json(const Site& site, const Relocation& relocation, const DeviceRelocation& device,
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
                    {"gains", remedy.gains},
                    {"loses", remedy.loses},
                    {"edits", json::edits(remedy.edits)},
                    {"text", remedy_text(site, relocation, device, remedy)}};
  if (remedy.place) {
    value["at_m"] = {json::number(remedy.place->at.x), json::number(remedy.place->at.y)};
    value["height_m"] = json::number(remedy.place->height_m);
    value["storey"] = site.storeys[remedy.place->storey].name;
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

Document relocation_document([[maybe_unused]] const Language& language, const Site& site, const Relocation& relocation) {
  Document document;
  auto& blocks = document.blocks;
  blocks.emplace_back(Paragraph{relocation.site + ": " + shortest_text(mhz_from_hz(relocation.frequency_hz)) +
                                " MHz, " + doors_phrase(relocation.doors)});
  blocks.emplace_back(verdict(relocation));
  if (relocation.nearby_readings > 0)
    blocks.emplace_back(Paragraph{nearby_phrase(relocation.nearby_readings)});
  if (!relocation.devices.empty()) {
    blocks.emplace_back(
        Paragraph{"In the order in which to try them; each is reckoned by itself. Asked for: a "
                  "chance of " +
                  chance_text(relocation.chance) + " to reach " + threshold_text(relocation) + "."});
  }
  for (const DeviceRelocation& device : relocation.devices) add_device(blocks, site, relocation, device);
  blocks.emplace_back(Heading{"Cautions"});
  blocks.emplace_back(warning_list(relocation.warnings));
  BulletList standing;
  for (const std::string& warning : standing_warnings()) standing.items.push_back({warning});
  blocks.emplace_back(std::move(standing));
  return document;
}

Table relocation_rows([[maybe_unused]] const Language& language, const Site& site, const Relocation& relocation) {
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
        return then ? Cell{(*then).*number} : Cell{};
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
                             of_reading(&ExpectedReading::pass_probability),
                             {std::string(remedy.enough ? "true" : "false")},
                             {remedy_text(site, relocation, device, remedy)}}});
    }
  }
  return table;
}

std::string relocation_json([[maybe_unused]] const Language& language, const Site& site, const Relocation& relocation) {
  json::Value devices = json::Value::array();
  for (const DeviceRelocation& device : relocation.devices) {
    json::Value steps = json::Value::array();
    for (const Remedy& remedy : device.remedies)
      steps.push_back(remedy_json(site, relocation, device, remedy));
    json::Value notes = json::Value::array();
    for (const SkipReason left_out : device.left_out) notes.push_back(left_out_words(left_out));
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
                    {"cautions", relocation.warnings}};
  if (relocation.nearby_readings > 0) value["nearby_readings"] = relocation.nearby_readings;
  return json::text(value);
}

}  // namespace linkmargin
