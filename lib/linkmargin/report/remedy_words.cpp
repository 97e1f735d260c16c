#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/words/move_words.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/report/relocation_report.hpp"
#include "linkmargin/report/words/spot_words.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

constexpr std::size_t kNames = 4;

std::string shift_words(const SpotTrial& trial) {
  return "Shift it by centimetres from where it hangs. " + spots_words(trial) +
         " Wait for a fresh reading at each, everything closed, and keep the best.";
}

std::string side_effects(const Relocation& relocation, const Remedy& remedy) {
  std::string text;
  const std::string asked = chance_percent(relocation.chance) + " in 100";
  if (!remedy.gains.empty()) text += " It also brings " + listed(remedy.gains, kNames) + " to " + asked + ".";
  text += remedy.loses.empty() ? " No other device loses by it." : "";
  if (!remedy.loses.empty()) text += " It takes " + listed(remedy.loses, kNames) + " below " + asked + ".";
  return text;
}

const Placement& place_of(const Site& site, const std::string& name) {
  const auto device = std::ranges::find(site.devices, name, &Device::name);
  if (device != site.devices.end()) return device->place;
  return std::ranges::find(site.hubs, name, &Hub::name)->place;
}

std::string moved(const Site& site, const Remedy& remedy) {
  return move_words(site, place_of(site, remedy.radio), *remedy.place) + ", to " +
         place_words(site, *remedy.place);
}

}  // namespace

std::string remedy_words(const Site& site, const Relocation& relocation, const DeviceRelocation& device,
                         const Remedy& remedy) {
  switch (remedy.kind) {
    case RemedyKind::spots:
      return shift_words(*remedy.trial);
    case RemedyKind::nearest_place:
      return "Move it " + moved(site, remedy) + ": the nearest place on its mount with the chance asked for.";
    case RemedyKind::best_place:
      return "Move it " + moved(site, remedy) + ": the best place where it may go" +
             (remedy.enough ? "." : ", though not enough by itself.");
    case RemedyKind::hub_moved:
      return "Move hub " + quoted_name(remedy.radio) + " " + moved(site, remedy) +
             (remedy.enough ? "." : ": the best of its places that harms no other device.") +
             side_effects(relocation, remedy);
    case RemedyKind::other_hub:
      return "Enrol it with hub " + quoted_name(remedy.radio) + ", where a slot is free.";
    case RemedyKind::known_repeater:
      return "Enrol it by way of repeater " + quoted_name(remedy.radio) +
             ", which the site has, where a slot is free. The chance is that of both hops together.";
    case RemedyKind::new_repeater:
      return "One more repeater at " + place_words(site, *remedy.place) + " on storey " +
             quoted_name(site.storeys[remedy.place->storey].name) + ", " +
             shortest_text(remedy.place->height_m) +
             " m up, where it has a supply. The chance is that of both hops together.";
    case RemedyKind::wire:
      return "Last: a wire to " + quoted_name(device.link.device) + ", or a second hub. Not reckoned here.";
  }
  return {};
}

}  // namespace linkmargin
