#pragma once

#include "linkmargin/site/site.hpp"

#include <doctest/doctest.h>

#include <functional>
#include <string>
#include <utility>
#include <vector>

/// A small sound site, and what changes to it are answered with.
namespace site_test {

using namespace linkmargin;

inline void add_material(Site& site, const std::string& name, decltype(Material::kind) kind) {
  Material& material = site.materials[name];
  material.name = name;
  material.kind = std::move(kind);
}

inline void add_measured(Site& site, const std::string& name, double loss_db) {
  add_material(site, name, MeasuredLoss{{{0, loss_db}}});
}

inline Profile& add_profile(Site& site, const std::string& name) {
  Profile& profile = site.profiles[name];
  profile.name = name;
  profile.transmit = TransmitPower{TransmitPower::Kind::erp, Dbm{10}};
  return profile;
}

/// Invented values: no test of a site's soundness depends on them.
inline void add_tables(Site& site) {
  for (const auto& [name, loss_db] :
       {std::pair{"board", 3.0}, {"heavy", 12.0}, {"steel", 26.0}, {"leaf", 2.0}, {"slab", 10.0}}) {
    add_measured(site, name, loss_db);
  }
  add_material(site, "brick", ElectricalProperties{4, 0, 0.02, 0, 1e9, 1e10});
  add_material(site, "gable", BuildUp{{{"brick", 0.1}, {"air", 0.05}, {"brick", 0.1}}});
  for (const char* name : {"hub", "contact"}) {
    Profile& profile = add_profile(site, name);
    profile.sensitivity = Dbm{-105};
    profile.two_way = true;
  }
  add_profile(site, "fob").device_class = "fobs";
}

inline Storey storey(const std::string& name, double level_m, double height_m) {
  Storey made;
  made.name = name;
  made.level_m = level_m;
  made.height_m = height_m;
  made.floor = Construction{"slab", 0.2};
  made.outer_wall = {"heavy", {}};
  made.inner_wall = {"board", {}};
  return made;
}

inline Opening opening(const std::string& name, const std::string& first, const std::string& second,
                       Point2 at, double width_m, double height_m = 2) {
  Opening made;
  made.name = name;
  made.first = first;
  made.second = second;
  made.at = at;
  made.width_m = width_m;
  made.height_m = height_m;
  made.leaf = {"leaf", {}};
  return made;
}

template <typename Radio>
void add_radio(std::vector<Radio>& radios, const std::string& name, const std::string& profile,
               Placement place) {
  Radio& radio = radios.emplace_back();
  radio.name = name;
  radio.profile = profile;
  radio.place = place;
}

/// Two storeys with every kind of thing in them, without a fault.
///
///   y=8 +---------+--------+
///       |  hall   |        |          yard wall from (12, 8) to (18, 8)
///   y=4 +---------+ work-  |
///       |  shop   |  shop  |
///   y=0 +---------+--------+
///      x=0       x=6      x=12        upstairs: one room over the shop
inline Site sound_site() {
  Site site;
  site.name = "sound";
  add_tables(site);
  Storey ground = storey("ground", 0, 2.6);
  ground.outer_wall = {"brick", 0.24};
  ground.rooms = {{"shop", rectangle({0, 0}, 6, 4), false, Construction{"slab", 0.2}},
                  {"workshop", {{6, 0}, {12, 0}, {12, 8}, {6, 8}}, false, Construction{"slab", 0.2}},
                  {"hall", rectangle({0, 4}, 6, 4), false, Construction{"slab", 0.2}}};
  ground.boundaries = {{"shop", "workshop", {"gable", {}}}, {"hall", "shop", {kNoMaterial, {}}}};
  ground.walls = {{"yard wall", {{12, 8}, {18, 8}}, {"brick", 0.22}, 1.8}};
  Opening gate = opening("yard gate", "", "", {15, 8}, 3, 1.8);
  gate.wall = "yard wall";
  ground.openings = {opening("street door", "shop", kOutside, {2.5, 0}, 0.9), gate,
                     opening("workshop door", "workshop", "hall", {6, 6}, 0.9)};
  ground.obstacles = {{"kiln", rectangle({10, 6}, 1.2, 1.2), 0, 1.8, {"steel", {}}}};
  Storey upper = storey("upper", 2.8, 2.4);
  upper.rooms = {{"office", rectangle({0, 0}, 6, 4)}};
  site.storeys = {ground, upper};
  add_radio(site.hubs, "hub", "hub", {0, {5.8, 3.9}, 2.1});
  add_radio(site.repeaters, "landing", "hub", {1, {5, 2}, 2.2});
  add_radio(site.devices, "contact", "contact", {0, {2, 0.1}, 2});
  site.devices[0].may_move = Mobility{Mobility::Along{{{0.5, 0.1}, {5.5, 0.1}}}};
  Area& drive = site.areas.emplace_back();
  drive.name = "drive";
  drive.profile = "fob";
  drive.corners = rectangle({-6, -5}, 12, 4);
  return site;
}

/// Rooms of 3 m x 4 m in a grid, with a door in every wall along y.
inline Site block(int columns, int rows) {
  Site site = sound_site();
  Storey ground = storey("ground", 0, 2.5);
  const auto name = [](int c, int r) { return std::to_string(c) + "." + std::to_string(r); };
  for (int c = 0; c < columns; ++c) {
    for (int r = 0; r < rows; ++r) {
      ground.rooms.push_back({name(c, r), rectangle({3.0 * c, 4.0 * r}, 3, 4)});
      if (c == 0) continue;
      ground.openings.push_back(
          opening(name(c, r) + " door", name(c - 1, r), name(c, r), {3.0 * c, 4.0 * r + 1}, 0.9));
    }
  }
  site.storeys[0] = ground;
  return site;
}

/// What one change to the sound site is answered with.
struct FaultCase {
  std::string what;
  std::function<void(Site&)> change;
  std::string path;
  std::string message;    ///< a part of it
  std::string hint = {};  ///< a part of it
};

inline bool holds(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

/// Each change alone brings exactly its own fault; all changes at once bring all of them.
inline void check_fault_cases(const std::vector<FaultCase>& cases) {
  REQUIRE(validate(sound_site()).empty());
  for (const FaultCase& row : cases) {
    Site site = sound_site();
    row.change(site);
    const Diagnostics faults = validate(site);
    CAPTURE(row.what);
    CHECK(faults.size() == 1);
    for (const Diagnostic& fault : faults) {
      CAPTURE(fault.path);
      CAPTURE(fault.message);
      CAPTURE(fault.hint);
      CHECK(fault.path == row.path);
      CHECK(holds(fault.message, row.message));
      CHECK(holds(fault.hint, row.hint));
      if (row.hint.empty()) CHECK(fault.hint.empty());
    }
  }
}

}  // namespace site_test
