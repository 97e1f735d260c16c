#include "linkmargin/link/mechanism/detours.hpp"

#include "linkmargin/link/mechanism/aperture_diffraction.hpp"
#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/propagation/path_loss/free_space.hpp"

#include "fixtures/parts.hpp"
#include "fixtures/turned_sites.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <utility>

using namespace linkmargin;

namespace {

/// Three cells in a row above a corridor, each with an open doorway to it; the walls between are as named.
Site cells(const std::string& between) {
  Site site = fixture::two_rooms();
  site.materials["tin"] = fixture::measured("tin", 60);
  Storey& storey = site.storeys[0];
  storey.inner_wall = {between, {}};
  storey.rooms = {{"a", rectangle({0, 2}, 4, 4)},
                  {"b", rectangle({4, 2}, 4, 4)},
                  {"c", rectangle({8, 2}, 4, 4)},
                  {"corridor", rectangle({0, 0}, 12, 2)}};
  for (int i = 0; i < 3; ++i) {
    Opening doorway;
    doorway.name = std::string("door ") + static_cast<char>('a' + i);
    doorway.first = std::string(1, static_cast<char>('a' + i));
    doorway.second = "corridor";
    doorway.at = {4.0 * i + 2, 2};
    doorway.width_m = 0.9;
    doorway.height_m = 2;
    doorway.leaf = {kNoMaterial, {}};
    storey.openings.push_back(doorway);
  }
  return site;
}

/// A tin wall along x without a gap across the line from a hub to a device, and half a metre behind it its
/// wings, with open doorways at the places named.
Site winged(const std::vector<double>& doors_x) {
  Site site = cells("tin");
  site.radio.reverberation = false;
  Storey& storey = site.storeys[0];
  storey.rooms.clear();
  const Opening doorway = std::exchange(storey.openings, {}).front();
  const auto tin = [](const char* name, Point2 from, Point2 to) {
    return TracedWall{.name = name, .line = {from, to}, .construction = {"tin", {}}, .height_m = {}};
  };
  storey.walls = {tin("front", {-2, 0}, {2, 0}), tin("left link", {-2, 0}, {-2, 0.5}),
                  tin("right link", {2, 0}, {2, 0.5}), tin("left wing", {-60, 0.5}, {-2, 0.5}),
                  tin("right wing", {2, 0.5}, {60, 0.5})};
  for (const double x : doors_x) {
    Opening door = doorway;
    door.name = "door " + std::to_string(x);
    door.first = door.second = "";
    door.wall = x < 0 ? "left wing" : "right wing";
    door.at = {x, 0.5};
    storey.openings.push_back(door);
  }
  return site;
}

bool has(const LossBreakdown& loss, LossCause cause, const PartName& part) {
  return std::ranges::any_of(loss.items,
                             [&](const LossItem& item) { return item.cause == cause && item.part == part; });
}

}  // namespace

TEST_CASE("from cell to cell the corridor is the way where the walls between are metal") {
  const Scene scene(cells("tin"), Doors::armed);
  const LossBreakdown loss = path_loss(scene, {2, 4.5, 1.25}, {10, 4.5, 1.25});
  CHECK(has(loss, LossCause::bend, own_name("door a")));
  CHECK(has(loss, LossCause::bend, own_name("door c")));
  CHECK_FALSE(has(loss, LossCause::bend, own_name("door b")));
  CHECK(loss.path_loss_db < 105);
  Site off = cells("tin");
  off.radio.diffraction = false;
  CHECK(path_loss(Scene(off, Doors::armed), {2, 4.5, 1.25}, {10, 4.5, 1.25}).path_loss_db > 160);
}

TEST_CASE("where the walls between are boards the straight line stays the strongest, and others add little") {
  const Scene scene(cells("board"), Doors::armed);
  const LossBreakdown loss = path_loss(scene, {2, 4.5, 1.25}, {10, 4.5, 1.25});
  CHECK(has(loss, LossCause::wall, fixture::wall_between("a", "b")));
  Site off = cells("board");
  off.radio.diffraction = false;
  const double straight_db =
      path_loss(Scene(off, Doors::armed), {2, 4.5, 1.25}, {10, 4.5, 1.25}).path_loss_db;
  CHECK(loss.path_loss_db <= straight_db + 0.5);
  CHECK(loss.path_loss_db >= straight_db - 3);
}

TEST_CASE("a door of its wall's own material adds nothing, a doorway in metal all that it passes") {
  const Point3 a{2, 4.5, 1.25}, c{10, 4.5, 1.25};
  for (const char* material : {"board", "heavy"}) {
    Site site = cells(material);
    for (Opening& door : site.storeys[0].openings) door.leaf = {material, {}};
    const double with_doors_db = path_loss(Scene(site, Doors::armed), a, c).path_loss_db;
    site.storeys[0].openings.clear();
    CAPTURE(material);
    CHECK(std::abs(with_doors_db - path_loss(Scene(site, Doors::armed), a, c).path_loss_db) <= 0.01);
  }
  Site site = winged({4});
  const auto round_db = [&](double tin_db) {
    site.materials["tin"] = fixture::measured("tin", tin_db);
    const Scene scene(site, Doors::armed);
    const LinkEndpoint hub(scene, {0, -5, 1.25});
    return find_detours(hub, trace(scene, hub.at(), {0, 6, 1.25}), 200).at(0).loss_db;
  };
  CHECK(std::abs(round_db(120) - round_db(80)) <= 0.01);
  // A leaf that passes twice the amplitude of its wall bends a quarter of that power; air beside 40 dB,
  // 0.99^2.
  const double open_db = round_db(40);
  const double leaf_db = 40 - 20 * std::log10(2);
  site.materials["leaf"] = fixture::measured("leaf", leaf_db);
  site.storeys[0].openings[0].leaf = {"leaf", {}};
  const double contrast_db = 20 * std::log10(2) + 20 * std::log10(0.99);
  CHECK(std::abs(round_db(40) - open_db - leaf_db - contrast_db) <= 0.01);
}

TEST_CASE("ways round never make a link worse than the edges of its own walls do, and sum up") {
  const Site on = fixture::random_block(21, 2, 6, 5);
  Site off = on;
  off.radio.diffraction = false;
  const Scene with(on, Doors::armed), without(off, Doors::armed);
  const RandomStream random(22, 1);
  double worst = 0;
  int shorter = 0;
  for (std::uint64_t i = 0; i < 1000; ++i) {
    const Point3 a = fixture::random_point(random, 2 * i, 2, 6, 5);
    const Point3 b = fixture::random_point(random, 2 * i + 1, 2, 6, 5);
    const LossBreakdown loss = path_loss(with, a, b);
    double sum = 0;
    for (const LossItem& item : loss.items) sum += item.loss_db;
    CHECK(std::abs(sum - loss.path_loss_db) <= 1e-9);
    const double straight_db = path_loss(without, a, b).path_loss_db;
    worst = std::max(worst, loss.path_loss_db - straight_db);
    shorter += loss.path_loss_db < straight_db - 3 ? 1 : 0;
  }
  CHECK(worst < 25);     // a line that just clears several edges, each of which takes up to 6 dB
  CHECK(shorter > 100);  // and many links find a better way
}

TEST_CASE("out by one door and in by the next, also where both are in one wall") {
  // Two cells divided by tin, on one side of a traced tin wall with two doorways; on the other side nothing.
  Site site = cells("tin");
  site.materials["tin"] = fixture::measured("tin", 120);
  Storey& storey = site.storeys[0];
  storey.rooms.clear();
  storey.openings.clear();
  storey.walls = {
      {.name = "front", .line = {{-200, 0}, {200, 0}}, .construction = {"tin", {}}, .height_m = {}},
      {.name = "divide", .line = {{0, 0}, {0, 200}}, .construction = {"tin", {}}, .height_m = {}}};
  for (const double x : {-1.5, 1.5}) {
    Opening doorway;
    doorway.name = x < 0 ? "left door" : "right door";
    doorway.wall = "front";
    doorway.at = {x, 0};
    doorway.width_m = 0.9;
    doorway.height_m = storey.height_m;
    doorway.leaf = {kNoMaterial, {}};
    storey.openings.push_back(doorway);
  }
  for (const double y : {3.0, -3.0}) {  // the cells above the wall, then below it, where the two sides swap
    if (y < 0) storey.walls[1].line = {{0, 0}, {0, -200}};
    const LossBreakdown loss = path_loss(Scene(site, Doors::armed), {-1.5, y, 1.25}, {1.5, y, 1.25});
    CAPTURE(y);
    CHECK(has(loss, LossCause::bend, own_name("left door")));
    CHECK(has(loss, LossCause::bend, own_name("right door")));
    CHECK(loss.path_loss_db < 115);  // 50 dB of way and two square bends; 160 dB straight through
  }
}

TEST_CASE("a way through a slot lower than its own edges' clearance stays inside it") {
  Site site = cells("tin");
  for (Opening& opening : site.storeys[0].openings) {
    opening.sill_m = 1.25;
    opening.height_m = 0.01;
  }
  const LossBreakdown loss = path_loss(Scene(site, Doors::armed), {2, 4.5, 1.25}, {10, 4.5, 1.25});
  CHECK(std::isfinite(loss.path_loss_db));
  CHECK(loss.path_loss_db >
        path_loss(Scene(cells("tin"), Doors::armed), {2, 4.5, 1.25}, {10, 4.5, 1.25}).path_loss_db);
}

TEST_CASE("the other models count no ways round") {
  for (const PathLossModel model : {PathLossModel::free_space, PathLossModel::log_distance,
                                    PathLossModel::multi_wall, PathLossModel::site_general}) {
    Site site = cells("tin");
    site.radio.model = model;
    CHECK_FALSE(counts_diffraction(site.radio));
    for (const LossItem& item : path_loss(Scene(site, Doors::armed), {2, 4.5, 1.25}, {10, 4.5, 1.25}).items) {
      CHECK((is_of_distance(item.cause) || stands_in_the_way(item.cause)));
    }
  }
}

TEST_CASE("crossing a storey of cells, the loss has no absurd step") {
  const Scene scene(cells("tin"), Doors::armed);
  double before = path_loss(scene, {2, 4.5, 1.25}, {0.5, 1, 1.25}).path_loss_db;
  double worst = 0;
  for (double x = 0.5; x < 11.5; x += 0.01) {
    const double now = path_loss(scene, {2, 4.5, 1.25}, {x, 1, 1.25}).path_loss_db;
    worst = std::max(worst, std::abs(now - before));
    before = now;
  }
  CHECK(worst < 1.5);
}

TEST_CASE("items say where they are met, and a way round where it bends") {
  const auto between = [](double value, double a, double b) {
    return value >= std::min(a, b) && value <= std::max(a, b);
  };
  const Point3 a{2, 4.5, 1.25}, c{10, 4.5, 1.25};
  const LossBreakdown round = path_loss(Scene(cells("tin"), Doors::armed), a, c);
  REQUIRE(round.turns.size() == 2);
  for (std::size_t turn = 0; turn < 2; ++turn) {
    CHECK(round.turns[turn].y == 2);  // in the doorways' wall
    CHECK(std::abs(round.turns[turn].x - (turn == 0 ? 2 : 10)) <= 0.45);
    CHECK(between(round.turns[turn].z, 0, 2));
  }
  for (const LossItem& item : round.items) {
    if (item.cause != LossCause::bend) continue;
    CHECK(item.at == round.turns[item.part == own_name("door a") ? 0 : 1]);
  }
  const LossBreakdown straight = path_loss(Scene(cells("board"), Doors::armed), a, c);
  CHECK(straight.turns.empty());
  std::vector<double> met;
  for (const LossItem& item : straight.items) {
    if (item.cause != LossCause::wall) continue;
    REQUIRE(item.at.has_value());
    CHECK(item.at->y == doctest::Approx(4.5));
    met.push_back(item.at->x);
  }
  REQUIRE(met.size() == 2);
  CHECK(met[0] == doctest::Approx(4));
  CHECK(met[1] == doctest::Approx(8));
  // From the other end the same, bit for bit.
  const LossBreakdown back = path_loss(Scene(cells("tin"), Doors::armed), c, a);
  CHECK(back.turns == round.turns);
}

TEST_CASE("the three best ways that share no gap are added, however many there are") {
  const Scene scene(winged({-6, -4, 4, 6}), Doors::armed);
  const LinkEndpoint hub(scene, {0, -5, 1.25});
  const Path path = trace(scene, hub.at(), {0, 6, 1.25});
  CHECK(find_detours(hub, path, 150).size() == 3);
  const Scene fewer(winged({-4, 4}), Doors::armed);
  const LinkEndpoint there(fewer, hub.at());
  const std::vector<Detour> two = find_detours(there, path, 150);
  REQUIRE(two.size() == 2);
  const double power = std::pow(10, -two[0].loss_db / 10) + std::pow(10, -two[1].loss_db / 10);
  CHECK(std::abs(path_loss(there, path.to).path_loss_db + 10 * std::log10(power)) <= 0.01);
}

TEST_CASE(
    "a bend costs its opening's share from free space over the straight line, however long the way is") {
  const Scene scene(winged({4}), Doors::armed);
  const LinkEndpoint hub(scene, {0, -5, 1.25});
  const Path path = trace(scene, hub.at(), {0, 6, 1.25});
  const std::vector<Detour> ways = find_detours(hub, path, 150);
  REQUIRE(ways.size() == 1);
  const auto door = std::ranges::find_if(
      scene.apertures(), [](const Aperture& aperture) { return aperture.name.first.starts_with("door"); });
  REQUIRE(door != scene.apertures().end());
  const double frequency_hz = scene.radio().frequency_hz;
  const double share = aperture_power_fraction(*door, path.from, path.to, wavelength_m(frequency_hz));
  const double way_m = distance(path.from, ways[0].turns.at(0)) + distance(ways[0].turns.at(0), path.to);
  CHECK(way_m > path.distance_m + 1);
  double sum_db = 0;
  for (const LossItem& item : ways[0].items) {
    if (item.cause == LossCause::distance)
      CHECK(std::abs(item.loss_db - free_space_loss_db(way_m, frequency_hz)) <= 1e-9);
    const bool bends = item.cause == LossCause::bend;
    if (bends || item.cause == LossCause::distance) sum_db += item.loss_db;
  }
  const double difference = 1 - std::pow(10, -60.0 / 20);  // of the doorway from its tin
  const double bend_db = -10 * std::log10(difference * difference * share);
  CHECK(std::abs(sum_db - free_space_loss_db(path.distance_m, frequency_hz) - bend_db) <= 1e-9);
  const auto bend = std::ranges::find(ways[0].items, LossCause::bend, &LossItem::cause);
  REQUIRE(bend != ways[0].items.end());
  CHECK(std::abs(bend->sigma_db - 0.11 * bend_db) <= 1e-9);
}

TEST_CASE("no link in sight is much over free space, and the sum of the ways is never under one of them") {
  double most_gain_db = 0;
  int clear = 0;
  bool never_under = true;
  for (std::uint64_t seed = 0; seed < 500; ++seed) {
    Site site = turned::random_site(seed);
    site.radio.reverberation = false;
    const Scene scene(site, Doors::armed);
    const LinkEndpoint hub(scene, site.point(site.hubs[0].place));
    const RandomStream random(seed, 11);
    for (std::uint64_t i = 0; i < 20; ++i) {
      const auto within = [&](std::uint64_t k, double from, double to) {
        return from + (to - from) * random.uniform(4 * i + k);
      };
      const Point3 to{within(0, -3, 14), within(1, -3, 14), within(2, 0.25, 5)};
      const Path path = trace(scene, hub.at(), to);
      const LossBreakdown loss = path_loss(hub, to);
      for (const LossItem& item : loss.items)
        never_under = never_under && (item.cause != LossCause::other_ways || item.loss_db <= 1e-9);
      const bool is_clear = std::ranges::all_of(
          path.crossings, [](const Crossing& crossing) { return crossing.barrier == kNone; });
      if (!is_clear) continue;
      ++clear;
      const double free_db = free_space_loss_db(std::max(path.distance_m, 0.1), site.radio.frequency_hz);
      most_gain_db = std::max(most_gain_db, free_db - loss.path_loss_db);
    }
  }
  CHECK(clear > 1000);
  CHECK(most_gain_db <= 6);
  CHECK(never_under);
}
