#pragma once

#include "linkmargin/analysis/coverage.hpp"

#include "report/link_table_fixture.hpp"

#include <cmath>

/// Maps made by hand, for tests of what is drawn and written of them.
namespace fixture {

/// Two rooms of 4 m by 3 m, a wall between, the hub of the table in the first.
inline Site map_site() {
  Site site;
  site.name = "Test <yard>";
  site.radio.frequency_hz = 868.3e6;
  Storey ground;
  ground.name = "ground";
  ground.height_m = 2.5;
  ground.outer_wall = {"brick", 0.24};
  ground.inner_wall = {"board", {}};
  ground.rooms = {{"hall", rectangle({0, 0}, 4, 3)}, {"far, room", rectangle({4, 0}, 4, 3)}};
  site.storeys = {ground};
  Hub hub;
  hub.name = "hall hub";
  hub.place = {0, {1, 1.5}, 2};
  site.hubs = {hub};
  Device device;
  device.profile = "contact";
  device.name = "till contact";
  device.place = {0, {2, 2.5}, 2};
  site.devices = {device};
  device.name = "kiln valve";
  device.place = {0, {7, 0.5}, 2};
  site.devices.push_back(device);
  return site;
}

/// The loss grows with the distance from the hub, 40 dB and 8 dB a metre: at a level of -loss the reading is
/// weak (under 40 %, -85 dBm) from 5.625 m on.
inline CoverageMap coverage_map(double step_m = 0.1) {
  CoverageMap map;
  map.site = "Test <yard>";
  map.storey = "ground";
  map.profile = "contact";
  map.frequency_hz = 868.3e6;
  map.height_m = 2;
  map.origin = {-1, -1};
  map.step_m = step_m;
  map.columns = static_cast<int>(std::lround(10 / step_m));
  map.rows = static_cast<int>(std::lround(5 / step_m));
  map.hubs = {{.name = "hall hub",
               .at = {1, 1.5, 2},
               .weaker_is_downlink = false,
               .level_at_no_loss_dbm = 0,
               .sensitivity_dbm = -100}};
  const auto count = static_cast<std::size_t>(map.columns) * static_cast<std::size_t>(map.rows);
  map.path_loss_db.resize(count);
  map.sigma_db.assign(count, 5.0F);
  map.in_sight.assign(count, 0);
  for (std::size_t cell = 0; cell < count; ++cell) {
    map.path_loss_db[cell] = static_cast<float>(40 + 8 * distance(map.centre(cell), {1, 1.5}));
  }
  return map;
}

}  // namespace fixture
