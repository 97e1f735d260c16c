#include "linkmargin/prediction/read_stations.hpp"

#include <algorithm>
#include <utility>

namespace linkmargin {
namespace {

template <typename Change>
Stations changed(Stations stations, Change change) {
  for (HubEndpoint& hub : stations.hubs) hub.nearby = change(hub.nearby);
  for (RepeaterEndpoint& repeater : stations.repeaters) repeater.hears.nearby = change(repeater.hears.nearby);
  return stations;
}

}  // namespace

Device as_read(const Site& site, const Device& device, const PresentReading& read, const Stations& bare,
               const FadingModel& fading_model) {
  Device enrolled = device;
  if (read.via) {
    enrolled.via = read.via;
  } else if (read.hub) {
    enrolled.hub = read.hub;
    enrolled.via = kDirect;
  } else {
    const Link way = predicted_serving_link(site, device, bare, fading_model);
    enrolled.hub = way.hub;
    enrolled.via = way.via.empty() ? kDirect : way.via.front();
  }
  return enrolled;
}

Device unenrolled(Device device) {
  device.hub.reset();
  device.via.reset();
  return device;
}

Stations without_reading(Stations stations, std::size_t row) {
  return changed(std::move(stations), [&](const ShadowingRegression& nearby) {
    return nearby.empty() ? nearby : nearby.without(row);
  });
}

Stations without_readings(Stations stations) {
  return changed(std::move(stations), [](const ShadowingRegression&) { return ShadowingRegression(); });
}

}  // namespace linkmargin
