#pragma once

#include "linkmargin/base/diagnostic.hpp"
#include "linkmargin/site/building.hpp"
#include "linkmargin/site/calibration.hpp"
#include "linkmargin/site/environment.hpp"
#include "linkmargin/site/material.hpp"
#include "linkmargin/site/radio.hpp"
#include "linkmargin/site/warning.hpp"

#include <optional>
#include <string>
#include <vector>

namespace linkmargin {

/// Everything that a person says about one place. Plan coordinates are snapped (see geometry/point.hpp).
struct Site {
  std::string name;
  std::string note;
  Units units;
  PropagationSettings radio;
  Fading fading;
  ReadingScale reading;
  std::optional<Calibration> calibration{};  ///< absent: nothing was learned from readings yet
  MaterialTable materials;
  ProfileTable profiles;
  std::vector<Storey> storeys;
  int hops = 1;  ///< how many repeaters a link may go by, one after the other
  std::vector<Hub> hubs;
  std::vector<Repeater> repeaters;
  std::vector<Device> devices;
  std::vector<Area> areas;
  /// The built-in profiles are made for European bands, whose figures are also the best known.
  Region region = Region::eu;
  std::optional<double> north_deg{};  ///< clockwise from the plan's up, its y axis, to the north

  /// Height of a placement above the site's zero.
  double z_m(const Placement& place) const { return storeys[place.storey].level_m + place.height_m; }
  Point3 point(const Placement& place) const { return {place.at.x, place.at.y, z_m(place)}; }
  friend bool operator==(const Site&, const Site&) = default;
};

/// All the faults of meaning in a site whose parts are each in range: overlapping rooms, an opening on no
/// wall, a name that nothing has. Each carries the JSON Pointer of its place; empty when the site is sound.
Diagnostics validate(const Site& site);

/// What is odd about a site, of the whole, of storeys or single radios: a device exactly on a wall, two walls
/// side by side.
std::vector<Warning> site_warnings(const Site& site);

/// The same and what the built-in profiles assume and what radiates over a limit, which is said of a whole
/// site alone.
std::vector<Warning> all_site_warnings(const Site& site);

}  // namespace linkmargin
