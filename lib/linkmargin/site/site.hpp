#pragma once

#include "linkmargin/base/diagnostic.hpp"
#include "linkmargin/site/building.hpp"
#include "linkmargin/site/calibration.hpp"
#include "linkmargin/site/environment.hpp"
#include "linkmargin/site/material.hpp"
#include "linkmargin/site/radio.hpp"

#include <optional>
#include <string>
#include <vector>

namespace linkmargin {

/// Everything that a person says about one place. Plan coordinates are snapped (see geometry/point.hpp).
struct Site {
  std::string name;
  std::string note;
  PropagationSettings radio;
  Fading fading;
  ReadingScale reading;
  std::optional<Calibration> calibration{};  ///< absent: no readings have taught anything yet
  MaterialTable materials;
  ProfileTable profiles;
  std::vector<Storey> storeys;
  std::vector<Hub> hubs;
  std::vector<Repeater> repeaters;
  std::vector<Device> devices;
  std::vector<Area> areas;

  /// Height of a placement above the site's zero.
  double z_m(const Placement& place) const { return storeys[place.storey].level_m + place.height_m; }
  Point3 point(const Placement& place) const { return {place.at.x, place.at.y, z_m(place)}; }
  friend bool operator==(const Site&, const Site&) = default;
};

/// All the faults of meaning in a site whose parts are each in range: overlapping rooms, an opening on no
/// wall, a name that nothing has. Each carries the JSON Pointer of its place; empty when the site is sound.
Diagnostics validate(const Site& site);

/// Something odd enough to be said, but perhaps meant: a device exactly on a wall, two walls side by side.
struct Warning {
  std::string text;
  std::string radio{};                 ///< the hub, repeater or device that it is about; empty: none
  std::vector<std::string> storeys{};  ///< the storeys that it is about; both empty: the whole site
};
std::vector<Warning> site_warnings(const Site& site);

/// Their texts.
std::vector<std::string> site_warning_texts(const Site& site);

}  // namespace linkmargin
