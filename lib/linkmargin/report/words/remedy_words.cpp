#include "linkmargin/report/words/remedy_words.hpp"

#include "linkmargin/report/words/move_words.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/report/words/spot_words.hpp"

#include <algorithm>
#include <initializer_list>

namespace linkmargin {
namespace {

const Placement& place_of(const Site& site, const std::string& name) {
  const auto device = std::ranges::find(site.devices, name, &Device::name);
  if (device != site.devices.end()) return device->place;
  return std::ranges::find(site.hubs, name, &Hub::name)->place;
}

/// Where a hub goes, and what that does to others.
std::string hub_words(const Wording& wording, const Site& site, const Remedy& remedy) {
  std::string text = wording.say(
      "remedy.hub_moved", {{"hub", wording.hub(site, remedy.radio)},
                           {"move", move_words(wording, site, place_of(site, remedy.radio), *remedy.place)},
                           {"place", wording.place(site, *remedy.place)}});
  const std::string off_metal = off_metal_words(wording, site, remedy.radio, *remedy.place);
  if (!off_metal.empty()) text += " " + off_metal;
  if (remedy.loses.empty()) text += " " + wording.say("remedy.harmless");
  if (!remedy.gains.empty())
    text += " " + wording.say("remedy.gains", {{"names", wording.names(remedy.gains)}});
  return text;
}

}  // namespace

std::string remedy_action(const Wording& wording, const Site& site, const Remedy& remedy) {
  const auto moved = [&](std::string_view key) {
    return wording.say(key, {{"move", move_words(wording, site, place_of(site, remedy.radio), *remedy.place)},
                             {"place", wording.place(site, *remedy.place)}});
  };
  switch (remedy.kind) {
    case RemedyKind::read_place:
      return wording.say("remedy.read_place",
                         {{"move", move_words(wording, site, place_of(site, remedy.radio), *remedy.place)},
                          {"place", wording.place(site, *remedy.place)},
                          {"percent", wording.number(*remedy.read_percent)}});
    case RemedyKind::spacer:
      return wording.say("remedy.spacer", {{"thick", wording.with_unit(1000 * kSpacerM, 0, "mm")}});
    case RemedyKind::spots:
      return spots_words(wording, *remedy.trial);
    case RemedyKind::nearest_place:
      return moved("remedy.nearest_place");
    case RemedyKind::best_place:
      return moved("remedy.best_place");
    case RemedyKind::station_spacer: {
      const bool only_hub = site.hubs.size() == 1 && site.hubs.front().name == remedy.radio;
      std::string text = wording.say(
          only_hub ? "remedy.hub_spacer" : "remedy.station_spacer",
          {{"name", wording.name(remedy.radio)}, {"thick", wording.with_unit(1000 * kSpacerM, 0, "mm")}});
      if (!remedy.gains.empty())
        text += " " + wording.say("remedy.gains", {{"names", wording.names(remedy.gains)}});
      return text;
    }
    case RemedyKind::hub_moved:
      return hub_words(wording, site, remedy);
    case RemedyKind::other_hub:
      return wording.say("remedy.other_hub", {{"hub", wording.hub(site, remedy.radio)}});
    case RemedyKind::known_repeater:
      return wording.say("remedy.known_repeater", {{"repeater", wording.name(remedy.radio)}});
    case RemedyKind::repeater_moved: {
      const auto repeater = std::ranges::find(site.repeaters, remedy.radio, &Repeater::name);
      const std::string text = wording.say(
          "remedy.repeater_moved", {{"repeater", wording.name(remedy.radio)},
                                    {"move", move_words(wording, site, repeater->place, *remedy.place)},
                                    {"place", wording.place(site, *remedy.place)}});
      const std::string off_metal = off_metal_words(wording, site, remedy.radio, *remedy.place);
      return off_metal.empty() ? text : text + " " + off_metal;
    }
    case RemedyKind::new_repeater:
      return wording.say("remedy.new_repeater", {{"place", wording.place(site, *remedy.place)}});
    case RemedyKind::wire:
      break;
  }
  return wording.say("remedy.wire");
}

namespace {

/// What the budget of the direction that counts takes at the device for some causes.
double device_loss_db(const Link& link, std::initializer_list<BudgetTerm> of_device_sending,
                      std::initializer_list<BudgetTerm> of_device_receiving) {
  return lost_db(link.weaker(), link.weaker_is_downlink ? of_device_receiving : of_device_sending);
}

}  // namespace

std::string remedy_words(const Wording& wording, const Site& site, const Relocation& relocation,
                         const Remedy& remedy) {
  std::string text = remedy_action(wording, site, remedy);
  if (!remedy.expected) return text;
  const double weak_below = relocation.reading.weak_below_percent;
  text += " " + wording.say(remedy.trial ? "remedy.then_spots" : "remedy.then",
                            {{"percent", wording.percent(remedy.expected->percent, weak_below)},
                             {"threshold", wording.number(weak_below)},
                             {"chance", wording.chance(remedy.expected->pass_probability)}});
  if (!remedy.enough)
    text += " " + wording.say("remedy.not_enough", {{"wanted", wording.chance(relocation.chance)}});
  if (remedy.with_spots)
    text += " " + wording.say("remedy.with_spots", {{"spots", spots_words(wording, *remedy.with_spots)},
                                                    {"threshold", wording.number(weak_below)},
                                                    {"chance", wording.chance(remedy.pass_probability())}});
  return text;
}

std::string chosen_words(const Wording& wording, const Remedy& chosen) {
  return wording.say(chosen.does() ? "remedy.first" : "remedy.best");
}

std::string remedy_line(const Wording& wording, const Site& site, const Relocation& relocation,
                        const DeviceRelocation& device, const Remedy& remedy) {
  const std::string text = remedy_words(wording, site, relocation, remedy);
  return &remedy == chosen(device) ? chosen_words(wording, remedy) + " " + text : text;
}

std::vector<std::string> mounting_words(const Wording& wording, const Site& site,
                                        const DeviceRelocation& found) {
  const Link& link = found.link;
  const auto device = std::ranges::find(site.devices, link.device, &Device::name);
  if (device == site.devices.end()) return {};
  std::vector<std::string> texts;
  const Language::Place thick{"thick", wording.with_unit(1000 * kSpacerM, 0, "mm")};
  const auto say = [&](std::string_view key, double loss_db) {
    if (loss_db >= kBigMountDb)
      texts.push_back(wording.say(key, {{"points", points_text(wording, site.reading, loss_db)}, thick}));
  };
  const Profile& profile = site.profiles.at(device->profile);
  if (profile.fixed_by_rule) {  // of others a spacer is among the remedies
    const double mount_db =
        device_loss_db(link, {BudgetTerm::transmitter_mounting, BudgetTerm::transmitter_metal},
                       {BudgetTerm::receiver_mounting, BudgetTerm::receiver_metal});
    say("mounting.ruled", mount_db - profile.mount_loss_db);
  }
  say("mounting.body", device_loss_db(link, {BudgetTerm::transmitter_body}, {BudgetTerm::receiver_body}));
  return texts;
}

std::string skip_words(const Wording& wording, const DeviceRelocation& device, SkipReason reason) {
  const auto whole = [&](double percent) { return wording.number(percent, 0); };
  switch (reason) {
    case SkipReason::read_again:
      return wording.say("visit.again", {{"read", whole(*device.reading_percent)}});
    case SkipReason::read_better_before:
      return wording.say("left_out.read_better_before",
                         {{"read", whole(std::ranges::max(device.link.earlier_percent))}});
    case SkipReason::needs_nothing:
      return wording.say("left_out.needs_nothing");
    case SkipReason::low_reading:
      return wording.say("left_out.low_reading");
    case SkipReason::look_for_cause:
      return wording.say("left_out.look_for_cause");
    case SkipReason::spots_read:
      return wording.say("left_out.spots_read");
    case SkipReason::shift_will_not_do:
      return wording.say("left_out.shift_will_not_do", {{"chance", wording.chance(kShiftChance)}});
    case SkipReason::ruled_place:
      return wording.say("left_out.ruled_place");
    case SkipReason::ruled_reach:
      return wording.say("left_out.ruled_reach");
    case SkipReason::device_stays:
      return wording.say("left_out.device_stays");
    case SkipReason::hubs_stay:
      break;
  }
  return wording.say("left_out.hubs_stay");
}

}  // namespace linkmargin
