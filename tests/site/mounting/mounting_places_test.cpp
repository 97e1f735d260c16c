#include "linkmargin/site/mounting/mounting_places.hpp"

#include "linkmargin/site/room_wall.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include "fixtures/hanging_oracle.hpp"
#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace linkmargin;

namespace {

std::vector<Placement> hub_places(const Site& site, double step_m = 0.25) {
  MountingRequest request = mounting_request(site, site.hubs[0]);
  return MountingPlaces(site).find(request, step_m);
}

bool any(const std::vector<Placement>& places, auto holds) {
  return std::ranges::any_of(places, holds);
}

bool none(const std::vector<Placement>& places, auto holds) {
  return std::ranges::none_of(places, holds);
}

/// Of a room of 4 m by 4 m with walls 10 cm thick.
constexpr double kFaceM = kUsualHalfWallM + kMountedOffM;

Device smoke_at(Site& site, Point2 at) {
  Profile smoke = site.profiles.at("contact");
  smoke.name = "smoke";
  smoke.mounted_on = MountingSurface::ceiling;
  site.profiles["smoke"] = smoke;
  return {.name = "smoke", .profile = "smoke", .place = {0, at, 2.45}};
}

}  // namespace

TEST_CASE("on 300 random sites no place is in an opening, an obstacle, mid-air or a room to be kept out of") {
  std::size_t places = 0;
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    CAPTURE(seed);
    Site site = fixture::random_block(seed, 1 + static_cast<int>(seed % 2), 2 + static_cast<int>(seed % 3),
                                      1 + static_cast<int>(seed % 2));
    Storey& storey = site.storeys[0];
    storey.rooms[seed % storey.rooms.size()].use = RoomUse::wet;
    storey.rooms[(seed / 3) % storey.rooms.size()].keep_out = seed % 4 == 0;
    site.hubs[0].place.at = {-5, -5};  // in no room
    site.hubs[0].place.height_m = 0.3 + 0.3 * static_cast<double>(seed % 7);
    if (seed % 5 == 0) storey.inner_wall.thickness_m = 0.3;
    for (const Placement& place : hub_places(site)) {
      const std::string flaw = fixture::oracle_flaw(site, place);
      CAPTURE(place.at.x);
      CAPTURE(place.at.y);
      CAPTURE(place.height_m);
      CHECK(flaw == "");
      ++places;
    }
  }
  CHECK(places > 20'000);
}

TEST_CASE("a room without anything in it is gone round, corners left out") {
  Site site = fixture::two_rooms();
  site.hubs[0].may_move = Mobility{Mobility::WithinRoom{"left"}};
  const auto places = hub_places(site, 0.5);
  CHECK(places.size() == 4 * 9);  // 3.6 m in parts of at most 0.5 m
  for (const Placement& place : places) {
    const double low = std::min({place.at.x, place.at.y, 4 - place.at.x, 4 - place.at.y});
    CHECK(std::abs(low - kFaceM) <= 2 * kGridPitchM);
    CHECK(place.height_m == site.hubs[0].place.height_m);
  }
  const double nearest_m = kUsualHalfWallM + kCornerClearM;
  CHECK(any(places,
            [&](const Placement& place) { return std::abs(place.at.x - nearest_m) <= 2 * kGridPitchM; }));
}

TEST_CASE("a door keeps its frame and what its leaf sweeps free, and the wall over it may be used") {
  Site site = fixture::two_rooms();
  site.storeys[0].openings = {fixture::door_between(1, 0.8, "leaf")};
  site.hubs[0].may_move = Mobility{Mobility::WithinRoom{"left"}};
  const auto on_door_wall = [](const Placement& place) { return place.at.x > 3.9 - 0.01; };
  const auto before_door = [&](const Placement& place) {
    return on_door_wall(place) && place.at.y > 0.5 && place.at.y < 1.5;
  };
  CHECK(none(hub_places(site), before_door));
  CHECK(
      any(hub_places(site), [&](const Placement& place) { return on_door_wall(place) && place.at.y > 1.5; }));
  const auto swept = [](const Placement& place) { return place.at.y < 0.2 && place.at.x > 3.4; };
  site.storeys[0].openings[0].at = {4, 0.5};  // its leaf opens against the lower wall
  CHECK(none(hub_places(site), swept));
  site.storeys[0].openings[0].opens = false;
  CHECK(any(hub_places(site), swept));
  site.storeys[0].openings[0].at = {4, 1};
  site.hubs[0].place.height_m = 2.2;  // 20 cm over it
  CHECK(any(hub_places(site), before_door));
  site.hubs[0].place.height_m = 2.15;
  CHECK(none(hub_places(site), before_door));
}

TEST_CASE("metal and glass hold no screw, and metal furniture is kept farther off than other") {
  Site site = fixture::two_rooms();
  site.hubs[0].may_move = Mobility{Mobility::WithinRoom{"left"}};
  site.storeys[0].boundaries = {{"left", "right", {"steel", {}}}};
  const auto on_shared = [](const Placement& place) { return place.at.x > 3.85; };
  CHECK(any(hub_places(site), on_shared));
  site.materials.at("steel").reflects_percent = 95;
  CHECK(none(hub_places(site), on_shared));
  site.materials.at("steel").reflects_percent.reset();
  site.materials.at("steel").group = "plain glass";
  CHECK(none(hub_places(site), on_shared));
  site.materials.at("steel").group.clear();
  site.storeys[0].obstacles = {{.name = "rack",
                                .corners = rectangle({1, 0.3}, 1, 1),
                                .base_m = 0,
                                .height_m = 2,
                                .construction = {"steel", {}}}};
  const auto below = [](const Placement& place) {
    return place.at.y < 0.2 && place.at.x > 1 && place.at.x < 2;
  };
  CHECK(any(hub_places(site), below));  // 22 cm off
  site.materials.at("steel").reflects_percent = 95;
  CHECK(none(hub_places(site), below));
}

TEST_CASE("what needs mains keeps to the sockets that are known") {
  Site site = fixture::two_rooms();
  Room& left = site.storeys[0].rooms[0];
  left.sockets = {{WallSpot{SheetSide::left, SheetSide::bottom, 0.5}}};
  const auto places = hub_places(site);
  int in_left = 0;
  for (const Placement& place : places) {
    if (place.at.x > 4) continue;
    ++in_left;
    CHECK(along_walls_m(left, {0, 0.5}, place.at) <= kUsualCableM + 1e-9);
  }
  CHECK(in_left > 4);
  CHECK(any(places, [](const Placement& place) { return place.at.x > 4; }));  // there nothing is known
  CHECK(any(places, [](const Placement& place) {
    return place.at.y < 0.2 && place.at.x < 1.1;
  }));  // round the corner
  site.hubs[0].cable_m = 0.3;
  CHECK(none(hub_places(site), [](const Placement& place) { return place.at.x < 4 && place.at.y > 0.81; }));
  left.sockets = {std::vector<Socket>{}};
  CHECK(none(hub_places(site), [](const Placement& place) { return place.at.x < 4; }));
  MountingRequest device = mounting_request(site, site.devices[0]);
  device.may_move = Mobility{Mobility::WithinRoom{"left"}};
  CHECK(!MountingPlaces(site).find(device, 0.25).empty());  // it has a battery
}

TEST_CASE("into a wet room nothing is moved, but what hangs there may move in it") {
  Site site = fixture::two_rooms();
  site.storeys[0].rooms[0].use = RoomUse::wet;
  const auto in_left = [](const Placement& place) { return place.at.x < 4; };
  CHECK(any(hub_places(site), in_left));  // it hangs there
  site.hubs[0].place.at = {6, 2};
  CHECK(none(hub_places(site), in_left));
  site.storeys[0].rooms[0].use = RoomUse::ordinary;
  site.storeys[0].rooms[0].keep_out = true;
  CHECK(none(hub_places(site), in_left));
}

TEST_CASE("a room whose name says bath, shower or toilet is wet, unless its use or a socket says otherwise") {
  const auto in_left = [](const Placement& place) { return place.at.x < 4; };
  for (const char* name : {"bathroom", "Front Bathroom", "en-suite", "en suite 2", "WC", "Gäste-WC", "Bad",
                           "Dusche/WC", "bathroom 1", "Gästebad oben"}) {
    CAPTURE(name);
    Site site = fixture::two_rooms();
    site.storeys[0].rooms[0].name = name;
    site.hubs[0].place.at = {6, 2};
    CHECK(is_wet(site.storeys[0].rooms[0]));
    CHECK(none(hub_places(site), in_left));
    site.storeys[0].rooms[0].sockets = {{WallSpot{SheetSide::left, SheetSide::bottom, 0.5}}};
    CHECK(any(hub_places(site), in_left));
    site.storeys[0].rooms[0].sockets = {std::vector<Socket>{}};  // none is listed
    CHECK(is_wet(site.storeys[0].rooms[0]));
    site.storeys[0].rooms[0].sockets.reset();
    site.storeys[0].rooms[0].use = RoomUse::ordinary;
    CHECK(any(hub_places(site), in_left));
    site.storeys[0].rooms[0].use = RoomUse::unstated;
    site.hubs[0].place.at = {1, 2};
    CHECK(any(hub_places(site), in_left));  // it hangs there
  }
  for (const char* name : {"hall", "kitchen", "Abstellraum", "bathe", "shop 2", "utility", "Ebad"}) {
    CAPTURE(name);
    CHECK(!is_wet({.name = name, .corners = {}}));
  }
}

TEST_CASE("a hub keeps an architrave and half a housing off openings, a detector the frame") {
  Site site = fixture::two_rooms();
  site.storeys[0].openings = {fixture::door_between(1, 0.8, "leaf")};
  site.storeys[0].openings[0].opens = false;
  const auto nearest_m = [&](const std::vector<Placement>& places) {
    double nearest = 10;
    for (const Placement& place : places)
      if (std::abs(place.at.x - 4) < 0.1 && place.at.y > 1.4) nearest = std::min(nearest, place.at.y - 1.4);
    return nearest;
  };
  CHECK(nearest_m(hub_places(site, 0.05)) == doctest::Approx(kMainsOpeningClearM).epsilon(0.02));
  MountingRequest request = mounting_request(site, site.devices[0]);
  request.may_move = Mobility{Mobility::WithinRoom{"right"}};
  CHECK(nearest_m(MountingPlaces(site).find(request, 0.05)) == doctest::Approx(kFrameM).epsilon(0.04));
}

TEST_CASE("a pier narrower than half a metre is no place for a hub") {
  const auto on_pier = [](double door_y) {
    Site site = fixture::two_rooms();
    site.storeys[0].openings = {fixture::door_between(door_y, 0.8, "leaf")};
    site.storeys[0].openings[0].opens = false;
    return any(hub_places(site, 0.02),
               [&](const Placement& place) { return std::abs(place.at.x - 4) < 0.1 && place.at.y < door_y; });
  };
  CHECK(!on_pier(0.4 + kUsualHalfWallM + 0.48));  // 48 cm from the corner of the room to the door
  CHECK(on_pier(0.4 + kUsualHalfWallM + 0.52));
  Site site = fixture::two_rooms();
  site.storeys[0].openings = {fixture::door_between(1, 0.8, "leaf"),
                              fixture::door_between(2.25, 0.8, "leaf")};
  site.storeys[0].openings[1].name = "other";
  for (Opening& door : site.storeys[0].openings) door.opens = false;
  const auto between = [](const Placement& place) {
    return std::abs(place.at.x - 4) < 0.1 && place.at.y > 1.4 && place.at.y < 1.9;
  };
  CHECK(none(hub_places(site, 0.02), between));  // 45 cm
  site.storeys[0].openings[1].at.y = 2.4;
  CHECK(any(hub_places(site, 0.02), [](const Placement& place) {
    return std::abs(place.at.x - 4) < 0.1 && place.at.y > 1.4 && place.at.y < 2;
  }));  // 60 cm
}

TEST_CASE("a radius stays in the room, on its side of every wall") {
  Site site = fixture::two_rooms();
  Device& contact = site.devices[0];
  contact.place.at = snapped({4 + kFaceM, 2});
  contact.may_move = Mobility{Mobility::Radius{1}};
  const auto places = MountingPlaces(site).find(mounting_request(site, contact), 0.1);
  CHECK(places.size() >= 20);
  for (const Placement& place : places) {
    CHECK(place.at.x > 4);
    CHECK(distance(place.at, contact.place.at) <= 1);
  }
}

TEST_CASE("a detector on a ceiling stays off the walls, and in a small room as far as that goes") {
  Site site = fixture::two_rooms();
  Device smoke = smoke_at(site, {2, 2});
  smoke.may_move = Mobility{Mobility::Radius{1}};
  const auto places = MountingPlaces(site).find(mounting_request(site, smoke), 0.25);
  CHECK(places.size() == 49);  // quarter metres in a disc of 1 m
  for (const Placement& place : places) CHECK(place.height_m == 2.45);
  smoke.may_move = Mobility{Mobility::WithinRoom{"left"}};
  for (const Placement& place : MountingPlaces(site).find(mounting_request(site, smoke), 0.25))
    CHECK(distance_to_edges(site.storeys[0].rooms[0].corners, place.at) >= kCeilingClearM);
  site.storeys[0].rooms[0].corners = rectangle({3.2, 0}, 0.8, 4);
  smoke.place.at = {3.6, 2};
  CHECK(!MountingPlaces(site).find(mounting_request(site, smoke), 0.25).empty());
}

TEST_CASE("a contact stays on the frame of its own opening, on its own side") {
  Site site = fixture::two_rooms();
  site.storeys[0].openings = {fixture::door_between(2, 0.8, "leaf")};
  site.profiles.at("contact").mounted_on = MountingSurface::frame;
  Device& contact = site.devices[0];
  contact.place = {0, {4.1, 1.65}, 1.9};
  contact.may_move = Mobility{Mobility::WithinRoom{"right"}};
  const auto places = MountingPlaces(site).find(mounting_request(site, contact), 0.2);
  CHECK(places.size() == 2 + 5);  // both jambs, and five over the head
  for (const Placement& place : places) {
    CHECK(std::abs(place.at.x - (4 + kFaceM)) <= 2 * kGridPitchM);
    const bool over = place.height_m > 2;
    CHECK((over ? place.at.y >= 1.6 - 1e-3 && place.at.y <= 2.4 + 1e-3
                : std::abs(std::abs(place.at.y - 2) - 0.45) <= 1e-3));
  }
  contact.may_move = Mobility{Mobility::Radius{0.2}};  // as the crow flies
  CHECK(MountingPlaces(site).find(mounting_request(site, contact), 0.2).size() == 1 + 1);
  contact.place.height_m = 0.3;
  for (const Placement& place : MountingPlaces(site).find(mounting_request(site, contact), 0.2))
    CHECK(place.height_m == 0.3);
  contact.may_move = Mobility{Mobility::WithinRoom{"right"}};
  site.storeys[0].openings.clear();
  CHECK(MountingPlaces(site).find(mounting_request(site, contact), 0.2).empty());
}

TEST_CASE("a line is taken for one on which it can be fixed, but for what is in the way") {
  Site site = fixture::two_rooms();
  Device& contact = site.devices[0];
  contact.may_move = Mobility{Mobility::Along{{{5, 1}, {7, 1}, {7, 3}}}};
  const auto along = [&] { return MountingPlaces(site).find(mounting_request(site, contact), 0.25); };
  CHECK(along().size() == 17);
  for (const Placement& place : along()) CHECK((place.at.y == 1 || place.at.x == 7));
  site.storeys[0].obstacles = {{.name = "rack",
                                .corners = rectangle({5.5, 0.5}, 1, 1),
                                .base_m = 0,
                                .height_m = 2,
                                .construction = {"board", {}}}};
  CHECK(none(along(), [](const Placement& place) { return place.at.x > 5.4 && place.at.x < 6.6; }));
  CHECK(along().size() == 12);
}

TEST_CASE("on a site without rooms both faces of its walls are used") {
  Site site = fixture::two_rooms();
  site.storeys[0].rooms.clear();
  site.storeys[0].walls = {
      {.name = "wall", .line = {{0, 0}, {4, 0}}, .construction = {"board", {}}, .height_m = 2.5}};
  const auto places = hub_places(site);
  CHECK(any(places, [](const Placement& place) { return place.at.y > 0; }));
  CHECK(any(places, [](const Placement& place) { return place.at.y < 0; }));
  site.storeys[0].walls[0].height_m = 1.2;  // lower than the hub
  CHECK(hub_places(site).empty());
}

TEST_CASE("what is lower than the radio's usual height lets it hang under its ceiling") {
  Site site = fixture::two_rooms();
  site.storeys.push_back(fixture::storey("loft", 2.75, 1.4));
  site.storeys[1].rooms = {{"loft", rectangle({0, 0}, 4, 4)}};
  const auto places = hub_places(site);
  const auto loft = std::ranges::find(places, 1U, &Placement::storey);
  REQUIRE(loft != places.end());
  CHECK(loft->height_m == doctest::Approx(1.3));
}
