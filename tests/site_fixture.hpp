#pragma once

#include "linkmargin/base/random.hpp"
#include "linkmargin/site/reading.hpp"
#include "linkmargin/site/site.hpp"

#include <cmath>
#include <string>
#include <vector>

/// Small sites made in code, for tests of what stands above the reader of files.
namespace fixture {

using namespace linkmargin;

inline Material measured(const std::string& name, double loss_db, double sigma_db = 0) {
  return {.name = name,
          .kind = MeasuredLoss{{{0, loss_db}}},
          .sigma_db = sigma_db,
          .use = {},
          .source = "test",
          .verified = {},
          .note = {}};
}

inline Material electrical(const std::string& name, ElectricalProperties properties, double sigma_db = 0) {
  return {.name = name,
          .kind = properties,
          .sigma_db = sigma_db,
          .use = {},
          .source = "test",
          .verified = {},
          .note = {}};
}

/// ITU-R P.2040-3 brick (two or more copies agree).
inline Material brick() {
  return electrical("brick", {3.91, 0, 0.0238, 0.16, 1e9, 40e9}, 2);
}

inline MaterialTable materials() {
  MaterialTable table;
  for (const Material& material :
       {measured("board", 3, 1), measured("heavy", 12, 4), measured("steel", 26, 5), measured("leaf", 2, 1),
        measured("slab", 10, 3), brick()}) {
    table.emplace(material.name, material);
  }
  return table;
}

inline Profile profile(const std::string& name, TransmitPower transmit, double gain_dbi) {
  Profile made;
  made.name = name;
  made.transmit = transmit;
  made.gain_dbi = gain_dbi;
  return made;
}

inline ProfileTable profiles() {
  Profile hub = profile("hub", {TransmitPower::Kind::erp, Dbm{14}}, 0);
  hub.sensitivity = Dbm{-105};
  hub.two_way = true;
  Profile contact = profile("contact", {TransmitPower::Kind::erp, Dbm{10}}, -3);
  contact.sensitivity = Dbm{-104};
  contact.two_way = true;
  Profile fob = profile("fob", {TransmitPower::Kind::eirp, Dbm{5}}, -5);
  fob.body_loss_db = 6;
  fob.device_class = "fobs";
  return {{"hub", hub}, {"contact", contact}, {"fob", fob}};
}

inline Storey storey(const std::string& name, double level_m, double height_m) {
  Storey made;
  made.name = name;
  made.level_m = level_m;
  made.height_m = height_m;
  made.outer_wall = {"heavy", {}};
  made.inner_wall = {"board", {}};
  return made;
}

/// Two rooms side by side, 4 m x 4 m each, sharing the wall at x = 4; a hub in the left, a contact in the
/// right.
inline Site two_rooms() {
  Site site;
  site.name = "two rooms";
  site.materials = materials();
  site.profiles = profiles();
  site.storeys = {storey("ground", 0, 2.5)};
  site.storeys[0].rooms = {{"left", rectangle({0, 0}, 4, 4)}, {"right", rectangle({4, 0}, 4, 4)}};
  site.hubs = {{.name = "hub",
                .profile = "hub",
                .place = {0, {1, 2}, 1.5},
                .capacity = {},
                .may_move = {},
                .near_mains_m = {}}};
  site.devices = {{.name = "contact",
                   .profile = "contact",
                   .place = {0, {7, 2}, 1.5},
                   .slots = 1,
                   .hub = {},
                   .may_move = {},
                   .mount_loss_db = {},
                   .body_loss_db = {},
                   .note = {}}};
  return site;
}

/// What was read of a device where it hangs.
inline Reading read_of(const std::string& device, double percent) {
  Reading reading;
  reading.device = device;
  reading.percent = percent;
  return reading;
}

/// A seeded block of rooms, all corners on quarter metres, with doors, traced walls at any angle and
/// obstacles.
inline Site random_block(std::uint64_t seed, int storeys, int columns, int rows) {
  const RandomStream random(seed, 1);
  std::uint64_t draw = 0;
  const auto uniform = [&](double from, double to) { return from + (to - from) * random.uniform(draw++); };
  Site site = two_rooms();
  site.storeys.clear();
  for (int s = 0; s < storeys; ++s) {
    Storey made = storey("storey " + std::to_string(s), 2.75 * s, 2.5);
    made.floor = Construction{"slab", 0.25};
    for (int c = 0; c < columns; ++c) {
      for (int r = 0; r < rows; ++r) {
        const std::string name = "room " + std::to_string(c) + "." + std::to_string(r);
        made.rooms.push_back({name, rectangle({3.0 * c, 4.0 * r}, 3, 4)});
        if (c == 0) continue;
        Opening door;
        door.name = "door " + std::to_string(c) + "." + std::to_string(r);
        door.first = "room " + std::to_string(c - 1) + "." + std::to_string(r);
        door.second = name;
        door.at = snapped({3.0 * c, 4.0 * r + uniform(1, 3)});
        door.width_m = 0.9;
        door.sill_m = r % 2 == 0 ? 0 : 0.9;
        door.height_m = r % 2 == 0 ? 2 : 1.2;
        door.leaf = {"leaf", {}};
        made.openings.push_back(door);
      }
    }
    for (int i = 0; i < columns; ++i) {
      const Point2 from = snapped({uniform(0, 3.0 * columns), uniform(0, 4.0 * rows)});
      made.walls.push_back({.name = "screen " + std::to_string(i),
                            .line = {from, snapped({from.x + uniform(-2, 2), from.y + uniform(-2, 2)})},
                            .construction = {"brick", 0.1},
                            .height_m = uniform(1, 2.5)});
      Obstacle rack;
      rack.name = "rack " + std::to_string(i);
      const Point2 corner = snapped({uniform(0, 3.0 * columns - 1), uniform(0, 4.0 * rows - 1)});
      rack.corners = {corner, snapped({corner.x + 0.8, corner.y + uniform(0, 0.5)}),
                      snapped({corner.x + 0.3, corner.y + 0.9})};
      rack.height_m = uniform(0.5, 2.5);
      rack.construction = {"steel", {}};
      made.obstacles.push_back(rack);
    }
    site.storeys.push_back(made);
  }
  return site;
}

/// A random point of a random_block, on the coordinate grid and often on a wall's line or at a corner.
inline Point3 random_point(const RandomStream& random, std::uint64_t index, int storeys, int columns,
                           int rows) {
  const auto draw = [&](int k) { return random.uniform(index * 8 + static_cast<std::uint64_t>(k)); };
  Point2 p{(draw(0) * 1.2 - 0.1) * 3 * columns, (draw(1) * 1.2 - 0.1) * 4 * rows};
  if (draw(2) < 0.2) p.x = std::round(p.x / 3) * 3;
  if (draw(3) < 0.2) p.y = std::round(p.y / 4) * 4;
  p = snapped(p);
  return {p.x, p.y, draw(4) < 0.1 ? 2.75 * std::floor(draw(5) * storeys) : draw(5) * 2.75 * storeys};
}

}  // namespace fixture
