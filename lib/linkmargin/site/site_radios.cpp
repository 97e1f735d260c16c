#include "linkmargin/site/site_radios.hpp"

namespace linkmargin {

std::vector<SiteRadio> site_radios(const Site& site) {
  std::vector<SiteRadio> all;
  for (const Hub& hub : site.hubs) all.push_back(site_radio("hubs", hub));
  for (const Repeater& repeater : site.repeaters) all.push_back(site_radio("repeaters", repeater));
  for (const Device& device : site.devices) all.push_back(site_radio("devices", device));
  return all;
}

std::optional<Mobility> mobility(const Site& site, const Hub& hub) {
  if (hub.fixed) return {};
  if (hub.may_move) return hub.may_move;
  for (const Room& room : site.storeys[hub.place.storey].rooms) {
    if (contains(room.corners, hub.place.at)) return Mobility{Mobility::WithinRoom{room.name}};
  }
  return {};
}

std::optional<Mobility> mobility(const Repeater& repeater) {
  return repeater.fixed ? std::nullopt : repeater.may_move;
}

PropagationSettings radio_with_equipment(const Site& site) {
  PropagationSettings radio = site.radio;
  if (site.calibration) return radio;
  const auto count = [&](const std::string& name) {
    const auto profile = site.profiles.find(name);
    if (profile == site.profiles.end()) return;
    radio.equipment_sigma_db = std::max(radio.equipment_sigma_db, profile->second.sigma_db);
  };
  for (const SiteRadio& one : site_radios(site)) count(one.profile);
  for (const Area& area : site.areas) count(area.profile);
  return radio;
}

}  // namespace linkmargin
