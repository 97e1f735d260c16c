#include "linkmargin/report/words/placement_words.hpp"

#include "linkmargin/report/document/rounding.hpp"
#include "linkmargin/report/words/codes/part_words.hpp"
#include "linkmargin/report/words/coverage_words.hpp"
#include "linkmargin/report/words/move_words.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

constexpr double kStaysM = 0.01;
constexpr double kLittleChance = 0.005;  ///< less is not worth a sentence
constexpr double kLittleSum = 0.05;

const ChosenService& weakest_of(const PlacementChoice& choice) {
  return choice.services[choice.worst];
}

std::string percent_text(const Wording& wording, const PlacementAnswer& answer,
                         const ChosenService& service) {
  return wording.percent(service.reading_percent, answer.reading.weak_below_percent);
}

/// A sentence of the weakest, whose key ends in "device" or "area".
std::string of_weakest(const Wording& wording, const PlacementAnswer& answer, const PlacementChoice& choice,
                       const std::string& section, const std::string& place = {}) {
  if (choice.services.empty()) return wording.say("placement.weakest.none");
  const ChosenService& weakest = weakest_of(choice);
  const std::string name = wording.name(weakest.name);
  return wording.say(section + (weakest.area ? ".area" : ".device"),
                     {{"device", name},
                      {"area", name},
                      {"percent", percent_text(wording, answer, weakest)},
                      {"share", share_text(wording, 100 * weakest.chance)},
                      {"chance", wording.chance(weakest.chance)},
                      {"place", place}});
}

/// How many more or fewer are good enough on average; nothing where that is next to nothing.
std::string average_words(const Wording& wording, double gain) {
  if (std::abs(gain) < kLittleSum) return {};
  return " " + wording.say(gain > 0 ? "placement.worth.more" : "placement.worth.fewer",
                           {{"by", wording.number(std::abs(gain), 1)}});
}

}  // namespace

std::string case_words(const Wording& wording, const HeldCase& held) {
  const std::string doors = wording.say(held.doors == Doors::open ? "doors.open" : "placement.closed");
  if (held.name.empty()) return doors;
  return wording.say("placement.case", {{"case", wording.name(held.name)}, {"doors", doors}});
}

std::string held_words(const Wording& wording, const PlacementAnswer& answer) {
  std::vector<std::string> cases;
  for (const HeldCase& held : answer.cases) cases.push_back(case_words(wording, held));
  return wording.listed(cases);
}

bool stays(const ChosenPart& part) {
  return part.fixed || (part.present && part.moved_m && *part.moved_m < kStaysM);
}

std::string move_words(const Wording& wording, const Site& site, const ChosenPart& part) {
  const Language::Place name{"name", wording.name(part.name)};
  const Language::Place place{"place", wording.place(site, part.place)};
  if (!part.present)
    return wording.say(part.repeater ? "placement.add.repeater" : "placement.add.hub", {name, place});
  const bool only = !part.repeater && site.hubs.size() == 1;
  const std::string section = only ? "placement.the_hub." : "placement.radio.";
  if (stays(part)) return wording.say(section + "stay", {name, place});
  const std::string text =
      part.moved_m ? wording.say(section + "move", {name, place, {"far", wording.length(*part.moved_m)}})
                   : wording.say(section + "storey", {name, place});
  const std::string off_metal = off_metal_words(wording, site, part.name, part.place);
  return off_metal.empty() ? text : text + " " + off_metal;
}

std::string little_gain_words(const Wording& wording, const Site& site, const PlacementAnswer& answer) {
  std::string moves;
  for (const ChosenPart& part : answer.choices.front().parts) {
    if (!stays(part)) moves += (moves.empty() ? "" : " ") + move_words(wording, site, part);
  }
  const std::string from = wording.chance(answer.present->worst_chance());
  const std::string to = wording.chance(answer.choices.front().worst_chance());
  if (from == to) return wording.say("placement.no_gain");
  return wording.say("placement.little_gain", {{"from", from}, {"to", to}, {"moves", moves}});
}

std::string load_words(const Wording& wording, const ChosenPart& part) {
  const std::string load = wording.counted("placement.load", static_cast<std::size_t>(part.serves),
                                           {{"name", wording.name(part.name)}});
  if (!part.load) return load;
  const Language::Place used{"used", std::to_string(part.load->slots_used)};
  if (!part.load->capacity) return wording.say("placement.slots_open", {{"load", load}, used});
  return wording.say("placement.slots",
                     {{"load", load}, used, {"capacity", std::to_string(*part.load->capacity)}});
}

std::string weakest_words(const Wording& wording, const PlacementAnswer& answer,
                          const PlacementChoice& choice) {
  return of_weakest(wording, answer, choice, "placement.weakest");
}

std::string today_words(const Wording& wording, const PlacementAnswer& answer) {
  return of_weakest(wording, answer, *answer.present, "placement.today");
}

std::string better_words(const Wording& wording, const PlacementAnswer& answer) {
  const PlacementChoice& best = answer.choices.front();
  if (!answer.present || answer.present->services.empty() || best.services.empty())
    return weakest_words(wording, answer, best);
  const ChosenService& now = weakest_of(*answer.present);
  const ChosenService& then = weakest_of(best);
  if (now.name != then.name || now.area != then.area)
    return weakest_words(wording, answer, best) + " " + today_words(wording, answer);
  const std::string name = wording.name(then.name);
  const bool same = wording.chance(then.chance) == wording.chance(now.chance) &&
                    percent_text(wording, answer, then) == percent_text(wording, answer, now);
  if (same) return weakest_words(wording, answer, best);
  if (then.area)
    return wording.say("placement.weakest.area_better", {{"area", name},
                                                         {"share", share_text(wording, 100 * then.chance)},
                                                         {"before", share_text(wording, 100 * now.chance)}});
  return wording.say("placement.weakest.better", {{"device", name},
                                                  {"percent", percent_text(wording, answer, then)},
                                                  {"before", percent_text(wording, answer, now)},
                                                  {"chance", wording.chance(then.chance)},
                                                  {"chance_before", wording.chance(now.chance)}});
}

bool is_doubtful(const ChosenService& service) {
  return !service.weak && !service.area && service.chance < kSureProbability;
}

std::string standing_words(const Wording& wording, const PlacementChoice& choice) {
  std::vector<std::string> weak, doubtful;
  for (const ChosenService& service : choice.services) {
    if (service.weak) weak.push_back(service.name);
    if (is_doubtful(service)) doubtful.push_back(service.name);
  }
  std::string text = weak.empty() ? wording.say("placement.nothing_weak")
                                  : wording.say("placement.weak", {{"names", wording.names(weak)}});
  if (!doubtful.empty())
    text += " " + wording.say("placement.doubtful", {{"names", wording.names(doubtful)}});
  return text;
}

std::string parts_words(const Wording& wording, int hubs, int repeaters) {
  const Language::Place of_hubs{"hubs", wording.counted("placement.hubs", static_cast<std::size_t>(hubs))};
  if (repeaters == 0) return wording.say("placement.hubs_alone", {of_hubs});
  return wording.counted("placement.repeaters", static_cast<std::size_t>(repeaters), {of_hubs});
}

std::string exact_words(const Wording& wording, const Site& site, const PlacementAnswer& answer) {
  const PlacementField& field = *answer.field;
  return wording.say(site.hubs.size() == 1 ? "placement.exact.the_hub" : "placement.exact.hub",
                     {{"hub", wording.name(field.hub)},
                      {"count", std::to_string(field.within_1_db())},
                      {"all", std::to_string(field.spots.size())},
                      {"storey", wording.name(site.storeys[field.storey].name)},
                      {"chance", wording.chance(field.one_db_less)}});
}

std::string middle_words(const Wording& wording, const Site& site, const PlacementAnswer& answer) {
  const PlacementChoice& middle = *answer.middle;
  const PlacementChoice& best = answer.choices.front();
  const auto moved = std::ranges::find_if(
      middle.parts, [](const ChosenPart& part) { return !part.fixed && !part.repeater; });
  if (moved == middle.parts.end()) return {};
  const std::string place = wording.place(site, moved->place);
  if (middle.services.empty() || best.worst_chance() - middle.worst_chance() < kLittleChance) {
    const double lost = best.sum - middle.sum;
    if (lost < kLittleSum) return wording.say("placement.middle.same", {{"place", place}});
    return wording.say("placement.middle.same_weakest", {{"place", place}, {"by", wording.number(lost, 1)}});
  }
  const std::string text = of_weakest(wording, answer, middle, "placement.middle", place);
  const ChosenService& weakest = weakest_of(middle);
  const LossItem* obstacle = weakest.area ? nullptr : biggest_obstacle(weakest.link.loss);
  if (obstacle == nullptr) return text;
  return text + " " +
         wording.say("placement.middle.obstacle", {{"thing", item_text(wording.language(), *obstacle)},
                                                   {"loss", wording.with_unit(obstacle->loss_db, 0, "dB")}});
}

std::string tradeoff_words(const Wording& wording, const PlacementAnswer& answer,
                           const CountTradeoff& tradeoff) {
  const PlacementChoice& best = answer.choices.front();
  const Language::Place parts{"parts", parts_words(wording, tradeoff.hubs, tradeoff.repeaters)};
  if (tradeoff.missing_slots > 0)
    return wording.counted("placement.worth.slots", static_cast<std::size_t>(tradeoff.missing_slots),
                           {parts});
  const double gain = tradeoff.worst_chance - best.worst_chance();
  const Language::Place before{"from", wording.chance(best.worst_chance())};
  std::string text =
      std::abs(gain) < kLittleChance
          ? wording.say("placement.worth.stays", {parts, {"chance", wording.chance(best.worst_chance())}})
          : wording.say(gain > 0 ? "placement.worth.rises" : "placement.worth.falls",
                        {parts,
                         before,
                         {"to", wording.chance(tradeoff.worst_chance)},
                         {"weakest", wording.name(tradeoff.worst)}});
  text += average_words(wording, tradeoff.sum - best.sum);
  return tradeoff.proved ? text : text + " " + wording.say("placement.worth.unproved");
}

std::vector<std::string> placement_advice(const Wording& wording) {
  return {wording.say("placement.fix.hold"), wording.say("placement.fix.move_first"),
          wording.say("placement.fix.supply")};
}

/// Of the site's hubs and repeaters, those that nothing lets move.
std::vector<std::string> confined(const Site& site) {
  std::vector<std::string> names;
  for (const Hub& hub : site.hubs) {
    if (!hub.fixed && !hub.may_move) names.push_back(hub.name);
  }
  for (const Repeater& repeater : site.repeaters) {
    if (!repeater.fixed && !repeater.may_move) names.push_back(repeater.name);
  }
  return names;
}

/// Rooms into which something that needs mains is put, and of which no sockets are known.
std::vector<std::string> rooms_without_sockets(const Site& site, const PlacementChoice& choice) {
  std::vector<std::string> names;
  for (const ChosenPart& part : choice.parts) {
    const Room* room = checks::room_at(site.storeys[part.place.storey], part.place.at);
    if (stays(part) || room == nullptr || room->sockets) continue;
    if (std::ranges::find(names, room->name) == names.end()) names.push_back(room->name);
  }
  return names;
}

std::vector<Warning> placement_warnings(const Site& site, const PlacementAnswer& answer) {
  std::vector<Warning> warnings;
  if (answer.choices.empty()) return warnings;
  const PlacementChoice& best = answer.choices.front();
  for (const ChosenPart& part : best.parts) {
    if (!part.present && !part.repeater && part.load && part.load->capacity) {
      warnings.push_back({.code = WarningCode::slots_assumed,
                          .arguments = {{"hub", Quoted{part.name}},
                                        {"slots", std::to_string(*part.load->capacity)},
                                        {"like", Quoted{site.hubs.front().name}}}});
    }
  }
  const auto unused = [&](const std::string& name, bool repeater) {
    return std::ranges::none_of(
        best.parts, [&](const ChosenPart& part) { return part.repeater == repeater && part.name == name; });
  };
  for (const Hub& hub : site.hubs) {
    if (unused(hub.name, false))
      warnings.push_back({.code = WarningCode::hub_left_out, .arguments = {{"hub", Quoted{hub.name}}}});
  }
  for (const Repeater& repeater : site.repeaters) {
    if (unused(repeater.name, true))
      warnings.push_back(
          {.code = WarningCode::repeater_left_out, .arguments = {{"repeater", Quoted{repeater.name}}}});
  }
  if (const auto rooms = rooms_without_sockets(site, best); !rooms.empty())
    warnings.push_back({.code = WarningCode::sockets_unknown, .arguments = {{"rooms", QuotedList{rooms}}}});
  if (const auto names = confined(site); !answer.anywhere && !names.empty())
    warnings.push_back({.code = WarningCode::radios_confined, .arguments = {{"names", QuotedList{names}}}});
  if (!site.areas.empty()) warnings.push_back({.code = WarningCode::area_points});
  return warnings;
}

}  // namespace linkmargin
