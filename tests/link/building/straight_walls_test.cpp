#include "linkmargin/link/building/straight_walls.hpp"

#include "linkmargin/link/path_loss.hpp"

#include "fixtures/parts.hpp"
#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace linkmargin;
using fixture::traced;

namespace {

std::vector<std::vector<StraightPart>> walls_of(const std::vector<TracedWall>& walls,
                                                std::vector<std::uint32_t> roof = {}) {
  Storey storey = fixture::storey("ground", 0, 2.5);
  storey.walls = walls;
  roof.resize(walls.size());
  return straight_walls(wall_plan(storey), roof);
}

}  // namespace

TEST_CASE("pieces that go on in one line are one wall, whichever way they were drawn") {
  for (const bool turned : {false, true}) {
    const Point2 middle{6, 0}, end{9, 0};
    const auto found = walls_of(
        {traced("one", {2, 0}, middle), turned ? traced("two", end, middle) : traced("two", middle, end)});
    REQUIRE(found.size() == 1);
    REQUIRE(found[0].size() == 2);
    CHECK(found[0][0].piece == 0);
    CHECK(!found[0][0].turned);
    CHECK(found[0][1].piece == 1);
    CHECK(found[0][1].turned == turned);
  }
}

TEST_CASE("the first piece may lie in the middle") {
  const auto found = walls_of(
      {traced("middle", {3, 0}, {6, 0}), traced("right", {6, 0}, {9, 0}), traced("left", {0, 0}, {3, 0})});
  REQUIRE(found.size() == 1);
  REQUIRE(found[0].size() == 3);
  CHECK(found[0][0].piece == 2);
  CHECK(found[0][1].piece == 0);
  CHECK(found[0][2].piece == 1);
}

TEST_CASE("pieces stay apart where a wall meets them, they bend, or differ") {
  const TracedWall one = traced("one", {0, 0}, {4, 0});
  CHECK(walls_of({one, traced("two", {4, 0}, {8, 0}), traced("across", {4, 0}, {4, 3})}).size() == 3);
  CHECK(walls_of({one, traced("two", {4, 0}, {8, 0}), traced("nearly across", {4.1, 0.1}, {4, 3})}).size() ==
        3);
  CHECK(walls_of({one, traced("two", {4, 0}, {8, 0.1})}).size() == 2);
  CHECK(walls_of({one, traced("two", {4, 0}, {8, 0}, "board")}).size() == 2);
  CHECK(walls_of({one, traced("two", {4.01, 0}, {8, 0})}).size() == 2);
  CHECK(walls_of({one, traced("two", {4, 0}, {8, 0})}, {0, 1}).size() == 2);
  TracedWall low = traced("two", {4, 0}, {8, 0});
  low.height_m = 1;
  CHECK(walls_of({one, low}).size() == 2);
}

TEST_CASE("what a line meets bears the name of the piece, and loses what the whole wall loses") {
  Site site = fixture::two_rooms();
  site.radio.reverberation = false;
  site.materials["tin"] = fixture::measured("tin", 20);
  site.storeys[0].outer_wall = {"board", {}};
  site.storeys[0].rooms = {{"hall", rectangle({0, 0}, 30, 30)}};
  Opening door;
  door.name = "door";
  door.at = {10, 22};
  door.width_m = 1;
  door.height_m = 2;
  door.leaf = {kNoMaterial, {}};
  door.wall = "whole";
  site.storeys[0].openings = {door};
  site.storeys[0].walls = {traced("whole", {10, 4}, {10, 26})};
  Site pieces = site;
  pieces.storeys[0].walls = {traced("near", {10, 4}, {10, 15}), traced("far", {10, 26}, {10, 15})};
  pieces.storeys[0].openings[0].wall = "far";
  const Scene whole(site, Doors::armed), parted(pieces, Doors::armed);
  const RandomStream random(5, 0x57A1);
  int met = 0;
  for (std::uint64_t i = 0; i < 400; ++i) {
    const Point3 a = snapped_in_plan({9 * random.uniform(6 * i), 30 * random.uniform(6 * i + 1), 1}),
                 b = snapped_in_plan(
                     {11 + 18 * random.uniform(6 * i + 2), 30 * random.uniform(6 * i + 3), 1.5});
    const LossBreakdown one = path_loss(whole, a, b), other = path_loss(parted, a, b);
    CHECK(std::abs(one.path_loss_db - other.path_loss_db) <= 1e-9);
    REQUIRE(one.items.size() == other.items.size());
    for (std::size_t k = 0; k < one.items.size(); ++k) {
      if (one.items[k].cause != LossCause::wall || !one.turns.empty()) continue;
      const double y = a.y + (10 - a.x) / (b.x - a.x) * (b.y - a.y);
      if (std::abs(y - 15) < 0.01) continue;
      CHECK(one.items[k].part.first == "whole");
      CHECK(other.items[k].part.first == (y < 15 ? "near" : "far"));
      ++met;
    }
  }
  CHECK(met > 50);
}
