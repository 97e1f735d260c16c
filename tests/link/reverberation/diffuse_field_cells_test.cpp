#include "linkmargin/link/reverberation/diffuse_field_cells.hpp"

#include "linkmargin/link/mechanism/scene.hpp"
#include "linkmargin/site/wall_plan.hpp"

#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <vector>

using namespace linkmargin;

namespace {

constexpr std::size_t kMost = 800;

/// One storey of 2.5 m, with echoes off: the cells are made by the test.
Site house(std::vector<Room> rooms) {
  Site site = fixture::two_rooms();
  site.radio.reverberation = false;
  site.storeys[0].rooms = std::move(rooms);
  return site;
}

DiffuseFieldCells cells_of(const Site& site, Doors doors = Doors::armed, std::size_t most = kMost) {
  return DiffuseFieldCells::of(Scene(site, doors), most);
}

/// A rectangle cut in two again and again; all corners on whole steps from the origin.
struct RandomRooms {
  RandomStream random;
  double step_m;
  std::uint64_t draw = 0;
  std::vector<Room> rooms{};

  int steps(double from_m, double to_m) {
    return static_cast<int>(std::lround((from_m + (to_m - from_m) * random.uniform(draw++)) / step_m));
  }

  void cut(int left, int low, int width, int depth) {
    const bool along_x = width > depth;
    const double whole_m = step_m * (along_x ? width : depth);
    if (whole_m < 2.4 || (whole_m < 4.5 && random.uniform(draw++) < 0.6)) {
      const auto at = [&](int i, int j) { return snapped(Point2{i * step_m, j * step_m}); };
      rooms.push_back(
          {"room " + std::to_string(rooms.size()),
           {at(left, low), at(left + width, low), at(left + width, low + depth), at(left, low + depth)}});
      return;
    }
    const int first = steps(1.2, whole_m - 1.2);
    cut(left, low, along_x ? first : width, along_x ? depth : first);
    cut(along_x ? left + first : left, along_x ? low : low + first, along_x ? width - first : width,
        along_x ? depth : depth - first);
  }
};

Site random_house(std::uint64_t seed, double step_m) {
  RandomRooms made{.random = RandomStream(seed, 0xCE11), .step_m = step_m};
  const int left = made.steps(-9, 9), low = made.steps(-9, 9);
  const int width = made.steps(13, 20), depth = made.steps(9, 14);
  made.cut(left, low, width, depth);
  return house(made.rooms);
}

TracedWall traced(const std::string& name, Point2 from, Point2 to) {
  return {.name = name, .line = {snapped(from), snapped(to)}, .construction = {"board", {}}, .height_m = {}};
}

std::uint32_t region_at(const DiffuseFieldCells& cells, Point3 p) {
  const auto place = cells.locate(p);
  return place ? cells.cells[place->cell].region : kNone;
}

Point2 middle_of(const DiffuseFieldCells& cells, const DiffuseFieldCell& cell) {
  return cells.storeys[cell.storey].plan.faces()[cell.face].middle;
}

bool is_near(const DiffuseFieldCell& cell, std::uint32_t other) {
  return std::ranges::find(cell.near, other) != cell.near.end();
}

}  // namespace

TEST_CASE("a corridor, a hall and a small room are cut into blocks of four thirds of a mean free path") {
  // 4 V / S is 2.105 m for 20 x 2 x 2.5 m, 3.462 m for 12 x 9 x 2.5 m, 2.222 m for 4 x 4 x 2.5 m.
  const DiffuseFieldCells corridor = cells_of(house({{"corridor", rectangle({0, 0}, 20, 2)}}));
  REQUIRE(corridor.cells.size() == 7);  // 20 / 2.807 = 7.1
  std::vector<double> middles;
  for (const DiffuseFieldCell& cell : corridor.cells) {
    middles.push_back(middle_of(corridor, cell).x);
    CHECK(std::abs(middle_of(corridor, cell).y - 1) <= 1e-9);
    CHECK(std::abs(cell.area_m2 - 40.0 / 7) <= 1e-9);
    CHECK(cell.near.size() == (std::abs(middles.back() - 10) > 8 ? 2 : 3));
  }
  std::ranges::sort(middles);
  for (std::uint32_t i = 0; i < 7; ++i) CHECK(std::abs(middles[i] - (i + 0.5) * 20 / 7) <= 1e-9);
  for (const DiffuseFieldJoint& joint : corridor.joints) {
    CHECK(std::abs(joint.length_m - 2) <= 1e-9);
    CHECK(joint.resistance == 1);
    CHECK(is_near(corridor.cells[joint.one], joint.other));
  }
  CHECK(corridor.joints.size() == 6);
  const DiffuseFieldCells hall = cells_of(house({{"hall", rectangle({0, 0}, 12, 9)}}));
  REQUIRE(hall.cells.size() == 6);  // 12 / 4.615 = 2.6, 9 / 4.615 = 1.95
  for (const DiffuseFieldCell& cell : hall.cells) {
    CHECK(cell.near.size() == (std::abs(middle_of(hall, cell).x - 6) < 1 ? 6 : 4));
    CHECK(cell.height_m == 2.5);
  }
  CHECK(cells_of(house({{"small", rectangle({0, 0}, 4, 4)}})).cells.size() == 1);
}

TEST_CASE("cells tile the floor of every room") {
  for (std::uint64_t seed = 0; seed < 60; ++seed) {
    const Site site = random_house(seed, seed % 3 == 0 ? 0.01 : seed % 3 == 1 ? 0.05 : 0.25);
    const DiffuseFieldCells cells = cells_of(site);
    std::set<std::uint32_t> regions;
    for (const Room& room : site.storeys[0].rooms) {
      const Point2 middle = centroid(room.corners);
      const std::uint32_t region = region_at(cells, {middle.x, middle.y, 1});
      REQUIRE(region != kNone);
      CHECK(regions.insert(region).second);
      double area_m2 = 0;
      for (const DiffuseFieldCell& cell : cells.cells) area_m2 += cell.region == region ? cell.area_m2 : 0;
      // Corners of rooms that lie within a centimetre of each other are made one.
      const Box2 box = bounding_box(room.corners);
      const double welded_m2 = kWeldM * (box.max.x - box.min.x + box.max.y - box.min.y);
      const double whole_m2 = std::abs(signed_area(room.corners));
      CHECK(std::abs(area_m2 - whole_m2) <= (seed % 3 == 0 ? welded_m2 : 1e-6));
      CHECK(std::abs(cells.regions[region].area_m2 - area_m2) <= 1e-6);
    }
    CHECK(regions.size() == site.storeys[0].rooms.size());
    CHECK(cells.regions.size() == site.storeys[0].rooms.size());
  }
}

TEST_CASE("a point is in the cell of its room and of its block; neighbours know each other") {
  int points = 0, cells_seen = 0;
  for (std::uint64_t seed = 100; seed < 130; ++seed) {
    const Site site = random_house(seed, seed % 2 == 0 ? 0.05 : 0.25);
    const Scene scene(site, Doors::armed);
    const DiffuseFieldCells cells = DiffuseFieldCells::of(scene, kMost);
    const RandomStream random(seed, 0x9017);
    const auto& rooms = site.storeys[0].rooms;
    for (std::uint64_t i = 0; i < 600; i += 3) {
      const Room& room = rooms[random.bits(i) % rooms.size()];
      const Box2 box = bounding_box(room.corners);
      const Point3 p{box.min.x + (box.max.x - box.min.x) * (1.6 * random.uniform(i + 1) - 0.3),
                     box.min.y + (box.max.y - box.min.y) * (1.6 * random.uniform(i + 2) - 0.3), 1.2};
      const auto home =
          std::ranges::find_if(rooms, [&](const Room& r) { return contains(r.corners, p.plan()); });
      const auto place = cells.locate(p);
      REQUIRE(place.has_value() == (home != rooms.end()));
      if (!place) continue;
      const DiffuseFieldCell& cell = cells.cells[place->cell];
      const Point2 middle = centroid(home->corners);
      REQUIRE(cell.region == region_at(cells, {middle.x, middle.y, 1}));
      REQUIRE(place->storey == 0);
      const DiffuseFieldRegion& region = cells.regions[cell.region];
      const Point2 at = region.in_frame(p.plan());
      CHECK(distance(region.on_sheet(at), p.plan()) <= 1e-9);
      CHECK(cell.interval[0] == region.axes[0].interval(at.x));
      CHECK(cell.interval[1] == region.axes[1].interval(at.y));
      double sum = 0;
      for (const DiffuseFieldCells::Share& share : cells.shares(*place, p.plan())) {
        CHECK(cells.cells[share.cell].region == cell.region);
        sum += share.share;
      }
      CHECK(std::abs(sum - 1) <= 1e-9);
      ++points;
    }
    for (std::uint32_t i = 0; i < cells.cells.size(); ++i, ++cells_seen) {
      REQUIRE(cells.cells[i].near.front() == i);
      for (const std::uint32_t near : cells.cells[i].near) {
        REQUIRE(is_near(cells.cells[near], i));
        REQUIRE(cells.cells[near].region == cells.cells[i].region);
      }
    }
  }
  MESSAGE(points << " points in " << cells_seen << " cells");
  CHECK(points > 3000);
}

TEST_CASE("a point on a wall is in the room that contains() gives it to") {
  const Site site = house({{"low", rectangle({0, 0}, 4, 4)},
                           {"high", rectangle({0, 4}, 4, 4)},
                           {"right", rectangle({4, 0}, 4, 8)}});
  const DiffuseFieldCells cells = cells_of(site);
  for (const Point2 p :
       {Point2{2, 4}, Point2{4, 2}, Point2{4, 6}, Point2{1, 0}, Point2{8, 3}, Point2{3, 8}, Point2{0, 3}}) {
    CAPTURE(p.x);
    CAPTURE(p.y);
    const auto& rooms = site.storeys[0].rooms;
    const auto home = std::ranges::find_if(rooms, [&](const Room& r) { return contains(r.corners, p); });
    const std::uint32_t region = region_at(cells, {p.x, p.y, 1});
    REQUIRE((region != kNone) == (home != rooms.end()));
    if (region == kNone) continue;
    const Point2 middle = centroid(home->corners);
    CHECK(region == region_at(cells, {middle.x, middle.y, 1}));
  }
}

TEST_CASE("a narrow piece of a room counts with its neighbour, the more the narrower") {
  // An L whose notch lies close to the cut through the middle: a strip is left beside the notch's wall.
  double before = 0;
  for (const double off_m : {0.0, 0.001, 0.01, 0.1, 0.3}) {
    const double notch = 4 - off_m;
    const DiffuseFieldCells cells =
        cells_of(house({{"l", {{0, 0}, {8, 0}, {8, 3}, {notch, 3}, {notch, 6}, {0, 6}}}}));
    double least = 1;
    for (const DiffuseFieldJoint& joint : cells.joints) least = std::min(least, joint.resistance);
    CAPTURE(off_m);
    if (off_m > 0) CHECK(least >= before);
    before = least;
  }
}

TEST_CASE("an open door parts a room from the next, open plan does not") {
  Site site = fixture::two_rooms();
  site.storeys[0].openings = {fixture::door_between(2, 3.8, "leaf")};
  site.storeys[0].openings.front().height_m = 2.4;
  for (const Doors doors : {Doors::armed, Doors::open}) {
    const DiffuseFieldCells cells = cells_of(site, doors);
    REQUIRE(cells.cells.size() == 2);
    CHECK(region_at(cells, {3.9, 2, 1}) != region_at(cells, {4.1, 2, 1}));
    CHECK(cells.cells[0].near.size() == 1);
    CHECK(std::abs(cells.cells[0].area_m2 - 16) <= 1e-9);
  }
  site.storeys[0].openings.clear();
  site.storeys[0].boundaries = {{"left", "right", {kNoMaterial, {}}}};
  const DiffuseFieldCells plan = cells_of(site);
  CHECK(region_at(plan, {1, 2, 1}) == region_at(plan, {7, 2, 1}));
  REQUIRE(plan.cells.size() == 2);  // 8 x 4 x 2.5 m: a mean free path of 2.581 m; 8 / 3.441 = 2.3
  CHECK(is_near(plan.cells[0], 1));
}

TEST_CASE("a walled yard is no room, and neither is what lies outside or over the roof") {
  Site site = fixture::two_rooms();
  site.storeys[0].walls = {traced("yard south", {8, 0}, {16, 0}), traced("yard east", {16, 0}, {16, 4}),
                           traced("yard north", {16, 4}, {8, 4})};
  const DiffuseFieldCells cells = cells_of(site);
  CHECK(cells.cells.size() == 2);
  CHECK(cells.locate({7, 2, 1}));
  CHECK_FALSE(cells.locate({12, 2, 1}));
  CHECK_FALSE(cells.locate({-1, 2, 1}));
  CHECK_FALSE(cells.locate({500, 500, 1}));
  CHECK_FALSE(cells.locate({7, 2, 2.6}));
  CHECK_FALSE(cells.locate({7, 2, -0.1}));
  CHECK(cells.locate({7, 2, 2.54}));
  // The yard's walls do part it from the rest.
  const Arrangement& plan = cells.storeys[0].plan;
  CHECK(plan.face_of({12, 2}) != Arrangement::kOutside);
  CHECK(plan.face_of({12, 4.2}) == Arrangement::kOutside);
}

TEST_CASE("two storeys have cells of their own, one over the other") {
  Site site = fixture::two_rooms();
  site.storeys.push_back(fixture::storey("upper", 2.75, 3));
  site.storeys[1].rooms = {{"loft", rectangle({4, 0}, 4, 4)}};
  const DiffuseFieldCells cells = cells_of(site);
  REQUIRE(cells.storeys.size() == 2);
  REQUIRE(cells.cells.size() == 3);
  const auto low = cells.locate({6, 2, 1});
  const auto high = cells.locate({6, 2, 3.5});
  REQUIRE(low);
  REQUIRE(high);
  CHECK(low->storey == 0);
  CHECK(high->storey == 1);
  CHECK(cells.cells[low->cell].height_m == 2.5);
  CHECK(cells.cells[high->cell].height_m == 3);
  CHECK(cells.cells[high->cell].storey == 1);
  CHECK_FALSE(cells.locate({2, 2, 3.5}));   // over the left room there is none
  CHECK_FALSE(cells.locate({6, 2, 2.62}));  // in the slab
}

TEST_CASE("a chink of 10 cm at a wall's end is closed, one of 40 cm is not") {
  // A partition in a room, straight and slanting, stops short of the far wall; lines of nodes pass at any
  // place in the chink.
  for (const double slant : {0.0, 1.0, -2.0}) {
    for (int i = 0; i < 26; ++i) {
      const double depth_m = 5 + 0.01 * i;
      for (const double chink_m : {0.0, 0.05, 0.1, 0.14, 0.4}) {
        Site site = house({{"room", rectangle({0, 0}, 10, depth_m)}});
        for (Point2& corner : site.storeys[0].rooms[0].corners) corner = snapped(corner);
        const double share = 1 - chink_m / depth_m;
        site.storeys[0].walls = {traced("partition", {5, 0}, {5 + slant * share, depth_m * share})};
        const Scene scene(site, Doors::armed);
        CAPTURE(slant);
        CAPTURE(depth_m);
        CAPTURE(chink_m);
        const bool parted = chink_m < 0.15;
        if (chink_m > 0 && parted) CHECK(scene.joints().size() == 1);
        if (!parted) CHECK(scene.joints().empty());
        const DiffuseFieldCells cells = DiffuseFieldCells::of(scene, kMost);
        CHECK((region_at(cells, {1, 2, 1}) != region_at(cells, {9, 2, 1})) == parted);
      }
    }
  }
}

TEST_CASE("one cell goes round a corner within its block") {
  const Polygon2 legs{{0, 0}, {1.5, 0}, {1.5, 0.5}, {2.5, 0.5}, {2.5, 0}, {4, 0}, {4, 4}, {0, 4}};
  const DiffuseFieldCells cells = cells_of(house({{"gate", legs}}));
  REQUIRE(cells.cells.size() == 1);
  CHECK(std::abs(cells.cells[0].area_m2 - 15.5) <= 1e-9);
  CHECK(cells.locate({3.2, 0.2, 1}));
  CHECK_FALSE(cells.locate({2, 0.3, 1}));
}

TEST_CASE("without rooms what walls close in is one; a chink of 10 cm does not open it, one of 40 cm does") {
  for (const double chink_m : {0.0, 0.1, 0.4}) {
    Site site = house({});
    site.storeys[0].walls = {traced("south", {chink_m, 0}, {6, 0}), traced("east", {6, 0}, {6, 4}),
                             traced("north", {6, 4}, {0, 4}), traced("west", {0, 4}, {0, 0})};
    const DiffuseFieldCells cells = cells_of(site);
    CAPTURE(chink_m);
    CHECK(cells.locate({3, 2, 1}).has_value() == (chink_m < 0.3));
    CHECK_FALSE(cells.locate({3, -1, 1}));
  }
  CHECK(cells_of(house({})).cells.empty());
}

TEST_CASE("no more cells than asked for, wider ones instead; none where the rooms alone are more") {
  const Site site = random_house(7, 0.25);
  const Scene scene(site, Doors::armed);
  const std::size_t rooms = site.storeys[0].rooms.size();
  const std::size_t free = DiffuseFieldCells::of(scene, kMost).cells.size();
  REQUIRE(free > rooms);
  for (std::size_t most = 0; most <= free + 2; ++most) {
    const DiffuseFieldCells cells = DiffuseFieldCells::of(scene, most);
    CAPTURE(most);
    CHECK(cells.cells.size() <= most);
    CHECK(cells.cells.empty() == (most < rooms));
    if (most >= free) CHECK(cells.cells.size() == free);
    if (most < rooms) CHECK_FALSE(cells.locate({centroid(site.storeys[0].rooms[0].corners).x, 1, 1}));
  }
}
