#include "measured_site.hpp"

#include "fixtures/reading_scale.hpp"

#include <algorithm>

namespace linkmargin::validation {

void add_radios(Site& site, const DataSet& set) {
  site.reading = fixture::kHalfDecibelScale;
  Profile hub, mover;
  hub.name = "hub";
  hub.sensitivity = Dbm{-140};
  mover.name = "mover";
  mover.transmit = TransmitPower{TransmitPower::Kind::eirp, Dbm{0}};
  site.profiles = {{hub.name, hub}, {mover.name, mover}};
  for (const MeasuredLink& link : set.links) {
    if (std::ranges::find(site.hubs, link.anchor, &Hub::name) != site.hubs.end()) continue;
    Hub added;
    added.name = link.anchor;
    added.profile = hub.name;
    added.place = {0, snapped(link.fixed.plan()), link.fixed.z};
    site.hubs.push_back(added);
  }
  Device device;
  device.name = "mover";
  device.profile = mover.name;
  device.place = {0, snapped(set.links.front().device.plan()), set.links.front().device.z};
  site.devices = {device};
}

Reading as_reading(const MeasuredLink& link, bool doors_open) {
  Reading reading;
  reading.device = "mover";
  reading.hub = link.anchor;
  reading.level = Dbm{link.level_db};
  reading.doors_open = doors_open;
  reading.place = Placement{0, snapped(link.device.plan()), link.device.z};
  return reading;
}

}  // namespace linkmargin::validation
