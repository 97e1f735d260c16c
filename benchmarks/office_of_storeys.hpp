#pragma once

#include "linkmargin/site/site.hpp"

#include "doored_office.hpp"

#include <algorithm>
#include <cstdint>
#include <string>

namespace linkmargin {

/// Width of an office of one or more storeys.
inline double office_side_m(const Site& site) {
  double most_m = 0;
  for (const Room& room : site.storeys[0].rooms) {
    for (const Point2 corner : room.corners) most_m = std::max(most_m, corner.x);
  }
  return most_m;
}

/// doored_office() on several storeys, with devices that hang anywhere on them and one hub on the lowest.
inline Site office_of_storeys(std::size_t side, std::size_t storeys, std::size_t devices) {
  Site site = doored_office(side, 7);
  const Storey lowest = site.storeys[0];
  for (std::size_t s = 1; s < storeys; ++s) {
    Storey storey = lowest;
    storey.name = "storey " + std::to_string(s);
    storey.level_m = 3 * static_cast<double>(s);
    storey.floor = Construction{"outer", {}};
    site.storeys.push_back(storey);
  }
  Profile contact = site.profiles.at("hub");
  contact.name = "contact";
  site.profiles["contact"] = contact;
  site.reading = {.zero = Dbm{-105}, .full = Dbm{-55}, .weak_below_percent = 40};
  const double side_m = office_side_m(site);
  const RandomStream random(11, 4);
  for (std::uint64_t i = 0; i < devices; ++i) {
    Device device;
    device.name = "device " + std::to_string(i);
    device.profile = "contact";
    const Point2 at{side_m * random.uniform(3 * i), side_m * random.uniform(3 * i + 1)};
    device.place = {i % storeys, snapped(at), 0.3 + 2 * random.uniform(3 * i + 2)};
    site.devices.push_back(device);
  }
  return site;
}

}  // namespace linkmargin
