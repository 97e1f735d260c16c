#include "linkmargin/link/building/path.hpp"

#include "linkmargin/link/building/building.hpp"

#include "fixtures/parts.hpp"
#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>

using namespace linkmargin;

namespace {

/// What a line crosses, by name, in the order of the path.
std::vector<PartName> names(const Building& scene, Point3 a, Point3 b) {
  std::vector<PartName> found;
  for (const Crossing& crossing : trace(scene, a, b).crossings) {
    if (crossing.barrier != kNone) found.push_back(scene.barriers()[crossing.barrier].name);
  }
  return found;
}

using Names = std::vector<PartName>;

Opening opening(const std::string& name, Point2 at, double width_m, double sill_m, double height_m) {
  Opening made;
  made.name = name;
  made.first = "left";
  made.second = "right";
  made.at = at;
  made.width_m = width_m;
  made.sill_m = sill_m;
  made.height_m = height_m;
  made.leaf = {"leaf", {}};
  return made;
}

}  // namespace

TEST_CASE("walls, leaves, lintels and parapets are told apart by where the line passes") {
  Site site = fixture::two_rooms();
  site.storeys[0].openings = {opening("hatch", {4, 2}, 1, 1, 1)};
  const Building armed(site, Doors::armed);
  const Building open(site, Doors::open);
  const Names wall{fixture::wall_between("left", "right")};
  CHECK(names(armed, {3, 2, 1.5}, {5, 2, 1.5}) == Names{own_name("hatch")});
  CHECK(names(open, {3, 2, 1.5}, {5, 2, 1.5}).empty());
  CHECK(names(armed, {3, 2, 0.9}, {5, 2, 0.9}) == wall);  // below the sill
  CHECK(names(armed, {3, 2, 2.1}, {5, 2, 2.1}) == wall);  // above the head
  CHECK(names(armed, {3, 1, 1.5}, {5, 1, 1.5}) == wall);  // beside it
  CHECK(names(armed, {3, 2, 2.5}, {5, 2, 2.5}).empty());  // over the wall: its top does not count
  CHECK(names(armed, {3, 2, 1.0}, {5, 2, 1.0}) ==
        Names{own_name("hatch")});                        // on the sill: the bottom counts
  CHECK(names(armed, {3, 2, 2.0}, {5, 2, 2.0}) == wall);  // on the head
}

TEST_CASE("fixed glazing stays when doors are open") {
  Site site = fixture::two_rooms();
  site.storeys[0].openings = {opening("pane", {4, 2}, 1, 1, 1)};
  site.storeys[0].openings[0].opens = false;
  CHECK(names(Building(site, Doors::open), {3, 2, 1.5}, {5, 2, 1.5}) == Names{own_name("pane")});
}

TEST_CASE("an opening without a leaf costs nothing, armed or open") {
  Site site = fixture::two_rooms();
  site.storeys[0].openings = {opening("archway", {4, 2}, 1, 0, 2)};
  site.storeys[0].openings[0].leaf = {kNoMaterial, {}};
  CHECK(names(Building(site, Doors::armed), {3, 2, 1.5}, {5, 2, 1.5}).empty());
}

TEST_CASE("a wall is met once wherever along it, beside openings and at their joints") {
  Site site = fixture::two_rooms();
  site.storeys[0].openings = {opening("hatch", {4, 2}, 1, 0, 2)};
  const Building scene(site, Doors::armed);
  for (int i = 1; i < 4000; ++i) {
    const double y = i * 0.001;
    CAPTURE(y);
    CHECK(trace(scene, {3, y, 1}, {5, y, 1}).crossings.size() == 1);
  }
}

TEST_CASE("through the corner that four rooms share, two walls are met, as beside it") {
  Site site = fixture::two_rooms();
  site.storeys[0].rooms = {{"sw", rectangle({0, 0}, 4, 4)},
                           {"se", rectangle({4, 0}, 4, 4)},
                           {"nw", rectangle({0, 4}, 4, 4)},
                           {"ne", rectangle({4, 4}, 4, 4)}};
  const Building scene(site, Doors::armed);
  CHECK(trace(scene, {2, 2, 1}, {6, 6, 1}).crossings.size() == 2);
  CHECK(trace(scene, {2, 2.125, 1}, {6, 6.125, 1}).crossings.size() == 2);
}

TEST_CASE("through the corner of a chain of two walls one is met") {
  Site site = fixture::two_rooms();
  site.storeys[0].rooms = {{"room", {{0, 0}, {4, 0}, {6, 3}, {0, 3}}}};
  const Building scene(site, Doors::armed);
  CHECK(names(scene, {3.5, 0.5, 1}, {4.5, -0.5, 1}) == Names{fixture::outer_wall("room")});
}

TEST_CASE("a device on a wall stands on its upper side, or on its side of smaller x") {
  const Building scene(fixture::two_rooms(), Doors::armed);
  CHECK(names(scene, {4, 2, 1}, {1, 2, 1}).empty());       // on the wall x = 4, seen from smaller x
  CHECK(names(scene, {4, 2, 1}, {7, 2, 1}).size() == 1);   // and from larger x
  CHECK(names(scene, {2, 0, 1}, {2, 2, 1}).empty());       // on the wall y = 0, seen from above it
  CHECK(names(scene, {2, 0, 1}, {2, -2, 1}).size() == 1);  // and from below it
  CHECK(names(scene, {4, 1, 1}, {4, 3, 1}).empty());       // along the wall
}

TEST_CASE("slabs are met at their true angle, and an end on one counts as above it") {
  Site site = fixture::two_rooms();
  site.storeys.push_back(fixture::storey("upper", 2.75, 2.5));
  site.storeys[1].floor = Construction{"slab", 0.25};
  site.storeys[1].rooms = {{"loft", rectangle({0, 0}, 4, 4)}};
  const Building scene(site, Doors::armed);
  const double mid_m = 2.75 - 0.125;
  const Path straight_up = trace(scene, {2, 2, 1}, {2, 2, 4});
  REQUIRE(straight_up.crossings.size() == 1);
  CHECK(scene.barriers()[straight_up.crossings[0].barrier].name == fixture::floor_of("upper"));
  CHECK(straight_up.crossings[0].incidence_cos == 1);
  CHECK(names(scene, {2, 2, 1}, {2, 2, mid_m}) == Names{fixture::floor_of("upper")});
  CHECK(names(scene, {2, 2, mid_m}, {2, 2, 4}).empty());
  const Path slanting = trace(scene, {1, 2, mid_m - 1}, {3, 2, mid_m + 1});
  REQUIRE(slanting.crossings.size() == 1);
  CHECK(std::abs(slanting.crossings[0].incidence_cos - std::sqrt(0.5)) <= 1e-12);
  // Beside the loft there is no slab, but its outer wall, from where the line is high enough.
  CHECK(names(scene, {6, 2, 1}, {6, 2, 4}).empty());
  CHECK(names(scene, {6, 2, 4}, {2, 2, 4}) == Names{fixture::outer_wall("loft")});
}

TEST_CASE("an obstacle is passed once, only where the line runs inside it") {
  Site site = fixture::two_rooms();
  Obstacle kiln;
  kiln.name = "kiln";
  kiln.corners = rectangle({1, 1}, 1, 1);
  kiln.base_m = 0.5;
  kiln.height_m = 1;
  kiln.construction = {"steel", {}};
  site.storeys[0].obstacles = {kiln};
  const Building scene(site, Doors::armed);
  CHECK(names(scene, {0.5, 1.5, 1}, {3, 1.5, 1}) == Names{own_name("kiln")});
  CHECK(names(scene, {0.5, 1.5, 1.5}, {3, 1.5, 1.5}).empty());                   // over it
  CHECK(names(scene, {0.5, 1.5, 0.4}, {3, 1.5, 0.4}).empty());                   // under it
  CHECK(names(scene, {0.5, 2.5, 1}, {3, 2.5, 1}).empty());                       // beside it
  CHECK(names(scene, {1.5, 1.5, 0}, {1.5, 1.5, 2}) == Names{own_name("kiln")});  // straight up through it
  CHECK(names(scene, {0.5, 1.5, 0.1}, {3, 1.5, 2.4}) ==
        Names{own_name("kiln")});                                  // in at the side, out at the top
  CHECK(names(scene, {0.5, 1.5, 1.55}, {2.5, 1.5, 1.5}).empty());  // down onto its far edge, outside
  CHECK(names(scene, {1.5, 1.5, 1}, {3, 1.5, 1}) == Names{own_name("kiln")});  // from inside
}

TEST_CASE("what hangs at the corner of an obstacle has it to pass inwards only") {
  Site site = fixture::two_rooms();
  Obstacle kiln;
  kiln.name = "kiln";
  kiln.corners = rectangle({1, 1}, 1, 1);
  kiln.height_m = 2;
  kiln.construction = {"steel", {}};
  site.storeys[0].obstacles = {kiln};
  const Building scene(site, Doors::armed);
  for (const Point2 corner : kiln.corners) {
    for (int i = 0; i < 360; ++i) {
      const double angle = (i + 0.5) * std::acos(-1.0) / 180;
      const Point2 along{0.5 * std::cos(angle), 0.5 * std::sin(angle)};
      const Point2 near = corner + along;
      const bool inwards = near.x > 1 && near.x < 2 && near.y > 1 && near.y < 2;
      CAPTURE(i);
      const Names expected = inwards ? Names{own_name("kiln")} : Names{};
      const Point2 end = corner + 1.9 * along;  // within the room
      CHECK(names(scene, {corner.x, corner.y, 1}, {end.x, end.y, 1}) == expected);
    }
  }
}

TEST_CASE("swapping the ends changes nothing, and index and scan agree, on 100,000 random links") {
  struct Block {
    int storeys, columns, rows;
  };
  const Block blocks[] = {{1, 3, 2}, {2, 5, 4}, {4, 8, 8}, {1, 20, 12}};
  std::size_t links = 0, crossings = 0;
  for (std::uint64_t seed = 0; seed < 8; ++seed) {
    const Block block = blocks[seed % 4];
    const Building scene(fixture::random_block(seed, block.storeys, block.columns, block.rows), Doors::armed);
    const RandomStream random(seed, 2);
    bool same_swapped = true, same_scanned = true;
    for (std::uint64_t i = 0; i < 12'500; ++i, ++links) {
      const Point3 a = fixture::random_point(random, 2 * i, block.storeys, block.columns, block.rows);
      const Point3 b = fixture::random_point(random, 2 * i + 1, block.storeys, block.columns, block.rows);
      const Path there = trace(scene, a, b);
      const Path back = trace(scene, b, a);
      same_swapped &= there.distance_m == back.distance_m && there.crossings == back.crossings;
      same_scanned &= there.crossings == trace_by_scan(scene, a, b).crossings;
      crossings += there.crossings.size();
    }
    CAPTURE(seed);
    CHECK(same_swapped);
    CHECK(same_scanned);
  }
  CHECK(links == 100'000);
  CHECK(crossings > 300'000);  // the links do cross things
}
