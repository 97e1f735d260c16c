#pragma once

#include "linkmargin/site/site.hpp"

#include <cmath>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace linkmargin {

/// The profile that a repeater to be added has.
inline constexpr const char* kRepeaterProfile = "repeater";

/// Where one more repeater would hang over its floor: out of reach, common practice.
inline constexpr double kRepeaterHeightM = 2.0;

/// What hubs, repeaters and devices have in common. Refers to the site.
struct SiteRadio {
  std::string_view map;  ///< "hubs", "repeaters", "devices"
  const std::string& name;
  const std::string& profile;
  const Placement& place;
  const std::optional<Mobility>& may_move;
  const std::optional<Mount>& mount;
};

/// @param map  that it stands in: "hubs", "repeaters", "devices"
template <typename Radio>
SiteRadio site_radio(std::string_view map, const Radio& radio) {
  return {map, radio.name, radio.profile, radio.place, radio.may_move, radio.mount};
}

/// The hubs, then the repeaters, then the devices.
std::vector<SiteRadio> site_radios(const Site& site);

/// A hub or repeater that is moved this far is no longer in front of the metal that it was mounted on.
inline constexpr double kOffMountM = 0.3;  ///< assumption: as far as radios are kept off metal

/// Whether a move leaves behind the metal that a radio's `mount` tells of.
inline bool leaves_mount(const Placement& from, const Placement& to) {
  return from.storey != to.storey || distance(from.at, to.at) >= kOffMountM ||
         std::abs(from.height_m - to.height_m) >= kOffMountM;
}

/// Puts a hub or repeater to a place. Where it leaves metal behind, it hangs clear of metal there. A device
/// keeps its own, as a contact does along a frame of steel.
template <typename Station>
void put_station(Station& station, const Placement& place) {
  if (leaves_mount(station.place, place)) station.mount.reset();
  station.place = place;
}

/// How far a hub may be moved: by its `may_move`; without that within its own room; not at all where it is
/// fixed or stands in no room. The same in every command.
std::optional<Mobility> mobility(const Site& site, const Hub& hub);

/// The same of a repeater, which stays without `may_move`.
std::optional<Mobility> mobility(const Repeater& repeater);

/// The site's `radio` with what its profiles leave open: the greatest `sigma_db` of those that its radios and
/// areas have, for the equipment of a site is of one make. Where anything was learned from readings
/// (`calibration`), its offset has taken the place of that, and nothing is added.
PropagationSettings radio_with_equipment(const Site& site);

}  // namespace linkmargin
