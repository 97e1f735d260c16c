#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/link/reverberation/diffuse_field.hpp"
#include "linkmargin/prediction/link_table.hpp"

#include "fixtures/parts.hpp"
#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <string>
#include <vector>

using namespace linkmargin;

namespace {

using Names = std::vector<PartName>;

/// The slabs that a line crosses, by name, in the order of the path.
Names slabs(const Scene& scene, Point3 a, Point3 b) {
  Names found;
  for (const Crossing& crossing : trace(scene, a, b).crossings) {
    if (crossing.barrier == kNone) continue;  // the air of a gap in a wall
    const Barrier& barrier = scene.barriers()[crossing.barrier];
    if (barrier.cause == LossCause::floor) found.push_back(barrier.name);
  }
  return found;
}

/// A storey of one room of 8 m x 4 m, with a slab of 0.25 m under it.
Storey level(const std::string& name, double level_m, double height_m, const std::string& slab = "slab") {
  Storey made = fixture::storey(name, level_m, height_m);
  made.floor = Construction{slab, 0.25};
  made.rooms = {{name + " room", rectangle({0, 0}, 8, 4)}};
  return made;
}

Site tower(std::vector<Storey> storeys) {
  Site site = fixture::two_rooms();
  site.storeys = std::move(storeys);
  return site;
}

}  // namespace

TEST_CASE("a line through a hole in the slab meets no slab, beside it the slab at its angle") {
  Site site = tower({level("ground", 0, 2.5), level("upper", 2.75, 2.5)});
  site.storeys[1].floor_openings = {{"stairwell", rectangle({2, 1}, 2, 1)}};
  CHECK(validate(site).empty());
  const Scene scene(site, Doors::armed);
  const Names upper{fixture::floor_of("upper")};
  CHECK(slabs(scene, {3, 1.5, 1}, {3, 1.5, 4}).empty());
  CHECK(slabs(scene, {1.5, 1.5, 1}, {1.5, 1.5, 4}) == upper);
  CHECK(slabs(scene, {3, 2.5, 1}, {3, 2.5, 4}) == upper);
  CHECK(slabs(scene, {1, 1.5, 1.625}, {5, 1.5, 3.625}).empty());   // slanting, through the middle of the hole
  CHECK(slabs(scene, {1, 1.5, 0.875}, {5, 1.5, 2.875}) == upper);  // the same line lower: beside it
  CHECK(slabs(scene, {3, 1.5, -1}, {3, 1.5, 1}) ==
        Names{fixture::floor_of("ground")});  // only the upper slab is open
  // Half-open: of two slabs' halves every point belongs to one, so a hole's rim is hole on one side only.
  CHECK(slabs(scene, {3, 1, 1}, {3, 1, 4}).empty());
  CHECK(slabs(scene, {3, 2, 1}, {3, 2, 4}) == upper);
}

TEST_CASE("a hole over two rooms is open over both, and one partly outside is no more than its inside") {
  Site site = tower({level("ground", 0, 2.5), level("upper", 2.75, 2.5)});
  site.storeys[1].rooms = {{"west", rectangle({0, 0}, 4, 4)}, {"east", rectangle({4, 0}, 4, 4)}};
  site.storeys[1].floor_openings = {{"atrium", {{3, 1}, {5, 1}, {5, 3}, {3, 3}}},
                                    {"shaft", rectangle({7, 3}, 3, 3)}};
  CHECK(validate(site).empty());
  const Scene scene(site, Doors::armed);
  for (const double x : {3.25, 4.0, 4.75}) CHECK(slabs(scene, {x, 2, 1}, {x, 2, 4}).empty());
  for (const double x : {2.75, 5.25}) CHECK(slabs(scene, {x, 2, 1}, {x, 2, 4}).size() == 1);
  CHECK(slabs(scene, {7.5, 3.5, 1}, {7.5, 3.5, 4}).empty());
  CHECK(slabs(scene, {8.5, 3.5, 1}, {8.5, 3.5, 4}).empty());  // out of doors: no slab, hole or not
}

TEST_CASE("reciprocity and the scan hold with holes, on random links") {
  Site site = fixture::random_block(31, 3, 5, 4);
  site.storeys[1].floor_openings = {{"stairwell", rectangle({2, 3}, 3, 4)},
                                    {"shaft", {{8, 8}, {11, 9}, {9, 12}}}};
  site.storeys[2].floor_openings = {{"stairwell", rectangle({2, 3}, 3, 4)}};
  const Scene scene(site, Doors::armed);
  Site closed_site = site;
  for (Storey& storey : closed_site.storeys) storey.floor_openings.clear();
  const Scene closed(closed_site, Doors::armed);
  const RandomStream random(32, 1);
  bool same = true, scanned = true, never_more = true;
  int spared = 0;
  for (std::uint64_t i = 0; i < 10'000; ++i) {
    const Point3 a = fixture::random_point(random, 2 * i, 3, 5, 4);
    const Point3 b = fixture::random_point(random, 2 * i + 1, 3, 5, 4);
    const Path there = trace(scene, a, b);
    same &= there.crossings == trace(scene, b, a).crossings;
    scanned &= there.crossings == trace_by_scan(scene, a, b).crossings;
    const std::size_t before = slabs(closed, a, b).size(), now = slabs(scene, a, b).size();
    never_more &= now <= before;
    spared += now < before ? 1 : 0;
  }
  CHECK(same);
  CHECK(scanned);
  CHECK(never_more);
  CHECK(spared > 100);
}

TEST_CASE("a cellar lies under the site's zero, with the ground's slab over it") {
  Site site = tower({level("cellar", -2.75, 2.5), level("ground", 0, 2.5), level("upper", 2.75, 2.5)});
  site.radio.reverberation = false;  // the straight line
  site.hubs[0].place = {1, {1, 2}, 2};
  site.devices[0].place = {0, {1, 2}, 1};
  CHECK(validate(site).empty());
  const Scene scene(site, Doors::armed);
  CHECK(slabs(scene, {1, 2, -1.75}, {1, 2, 2}) == Names{fixture::floor_of("ground")});
  CHECK(slabs(scene, {1, 2, -1.75}, {1, 2, 4}) ==
        Names{fixture::floor_of("ground"), fixture::floor_of("upper")});
  CHECK(slabs(scene, {1, 2, -2.5}, {1, 2, -0.3}).empty());
  CHECK(scene.indoors({1, 2, -1.75}));
  CHECK_FALSE(scene.indoors({-1, 2, -1.75}));
  const LinkTable table = link_table(site);
  CHECK(std::abs(table.links.at(0).loss.distance_m - 3.75) <= 1e-12);
  CHECK(table.links.at(0).loss.items.size() == 2);
}

TEST_CASE("a half storey stands by its own level, beside and between whole ones") {
  Storey mezzanine = level("mezzanine", 1.4, 2.4);
  mezzanine.rooms = {{"split room", rectangle({8, 0}, 4, 4)}};
  Site site = tower({level("ground", 0, 2.5), mezzanine, level("upper", 2.75, 2.5)});
  CHECK(validate(site).empty());
  const Scene scene(site, Doors::armed);
  CHECK(slabs(scene, {10, 2, 1}, {10, 2, 2}) ==
        Names{fixture::floor_of("mezzanine")});  // under it: its own level
  CHECK(slabs(scene, {4, 2, 1}, {4, 2, 2}).empty());
  CHECK(slabs(scene, {4, 2, 1}, {10, 2, 2}).empty());  // up through the wall between, over its slab's edge
  CHECK(slabs(scene, {10, 2, 3}, {4, 2, 3.5}).empty());
  CHECK(slabs(scene, {9, 2, 2}, {3, 2, 4}) == Names{fixture::floor_of("upper")});
}

TEST_CASE("a mast is a storey without rooms: no slab, no walls, and its radio is outside") {
  Site site = tower({level("ground", 0, 2.5)});
  site.storeys[0].roof = Construction{"slab", 0.25};
  Storey mast;
  mast.name = "mast";
  mast.level_m = 2.75;
  mast.height_m = 6;
  mast.floor = Construction{"slab", 0.25};
  site.storeys.push_back(mast);
  site.hubs[0].place = {1, {4, 2}, 4};
  site.devices[0].place = {0, {1, 2}, 1};
  CHECK(validate(site).empty());
  const Scene scene(site, Doors::armed);
  CHECK_FALSE(scene.indoors(site.point(site.hubs[0].place)));
  CHECK(scene.indoors(site.point(site.devices[0].place)));
  CHECK(slabs(scene, site.point(site.devices[0].place), site.point(site.hubs[0].place)) ==
        Names{fixture::roof_over("ground")});
  const LinkTable table = link_table(site);
  REQUIRE(table.links.size() == 1);
  for (const LossItem& item : table.links[0].loss.items) {
    const bool slab = item.cause == LossCause::floor;
    CHECK((slab || item.cause == LossCause::distance || item.cause == LossCause::slab_reflection));
  }
}

TEST_CASE("three slabs of different kinds by COST 231's law, at the true angle of incidence") {
  Site site = tower({level("ground", 0, 2.5), level("first", 2.75, 2.5, "brick"),
                     level("second", 5.5, 2.5, "timber"), level("third", 8.25, 2.5)});
  site.materials["timber"] = fixture::measured("timber", 4, 2);
  site.radio.model = PathLossModel::multi_wall;
  const Scene scene(site, Doors::armed);
  const Point3 low{1, 2, 1}, high{6, 2, 9};
  const LossBreakdown loss = path_loss(scene, low, high);
  REQUIRE(loss.items.size() == 4);
  CHECK(loss.items[1].part == fixture::floor_of("first"));
  CHECK(loss.items[2].part == fixture::floor_of("second"));
  CHECK(loss.items[3].part == fixture::floor_of("third"));
  const double incidence_cos = 8 / std::hypot(5, 8);
  const double brick_db =
      Transmission::of({"brick", 0.25}, site.materials, site.radio.frequency_hz).loss_db(incidence_cos);
  CHECK(std::abs(loss.items[1].incidence_deg - 32.0054) <= 0.0001);  // arctan(5 / 8)
  CHECK(loss.items[2].incidence_deg == 0);                           // measured: the angle plays no part
  // Three floors of 18.3 dB each cost 43.5890 dB (COST 231 final report, section 4.7; coefficients in two
  // copies that agree, computed): 2.38191 floors' worth, here of the mean of three kinds.
  const double law = 43.5890 / 18.3;
  const double mean_db = (brick_db + 4 + 10) / 3;
  const double floors_db = loss.items[1].loss_db + loss.items[2].loss_db + loss.items[3].loss_db;
  CHECK(std::abs(floors_db - law * mean_db) <= 0.0005);
  CHECK(floors_db < brick_db + 4 + 10);  // less than their sum
  // Each keeps its share.
  CHECK(std::abs(loss.items[1].loss_db / loss.items[3].loss_db - brick_db / 10) <= 1e-9);
  CHECK(std::abs(loss.items[2].loss_db / loss.items[3].loss_db - 0.4) <= 1e-9);
  // One hole less is one floor less.
  site.storeys[2].floor_openings = {{"stairwell", rectangle({2, 1}, 4, 2)}};
  const LossBreakdown open = path_loss(Scene(site, Doors::armed), low, high);
  REQUIRE(open.items.size() == 3);
  const double two_db = open.items[1].loss_db + open.items[2].loss_db;
  CHECK(std::abs(two_db - 33.5236 / 18.3 * (brick_db + 10) / 2) <= 0.0005);  // two floors: 33.5236 dB
}

TEST_CASE("no line slips out of a building between its walls and the slab") {
  Site site = fixture::two_rooms();
  site.radio.diffraction = false;
  site.storeys[0].rooms = {{"low", rectangle({0, 0}, 8, 4)}};
  Storey upper = fixture::storey("upper", 2.75, 2.5);
  upper.floor = Construction{"slab", 0.25};
  upper.rooms = {{"high", rectangle({0, 0}, 8, 4)}};
  site.storeys.push_back(upper);
  const Scene scene(site, Doors::armed);
  // From upstairs down to the yard: by the outer wall upstairs, through the slab, or by the one downstairs.
  for (double z = -1; z < 4; z += 0.005) {
    const LossBreakdown loss = path_loss(scene, {4, 2, 4}, {12, 2, z});
    int walls = 0;
    for (const LossItem& item : loss.items) walls += item.cause == LossCause::wall ? 1 : 0;
    CAPTURE(z);
    CHECK(walls == 1);
  }
}

TEST_CASE("the slabs that a line meets are those of a plain look at every piece, on random links") {
  const RandomStream random(23, 2);
  std::size_t met = 0;
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    const Scene scene(fixture::random_block(seed, 3, 3, 2), Doors::armed);
    for (std::uint64_t i = 0; i < 500; ++i) {
      const Path path = trace(scene, fixture::random_point(random, 2 * i, 3, 3, 2),
                              fixture::random_point(random, 2 * i + 1, 3, 3, 2));
      std::multiset<std::uint32_t> expected, found;
      for (const Slab& slab : scene.slabs()) {
        const auto [low_m, high_m] = std::minmax(path.from.z, path.to.z);
        if (slab.z_m <= low_m || slab.z_m > high_m) continue;
        const double fraction = (slab.z_m - path.from.z) / (path.to.z - path.from.z);
        const Point2 at = snapped(at_fraction({path.from.plan(), path.to.plan()}, fraction));
        const bool hole =
            std::ranges::any_of(slab.holes, [at](const Polygon2& corners) { return contains(corners, at); });
        if (contains(slab.outline, at) && !hole) expected.insert(slab.barrier);
      }
      for (const Crossing& crossing : path.crossings) {
        const bool slab = crossing.barrier != kNone && crossing.wall == kNone && crossing.obstacle == kNone;
        if (slab) found.insert(crossing.barrier);
      }
      REQUIRE(found == expected);
      met += found.size();
    }
  }
  CHECK(met > 5000);
}

namespace {

/// A house with a storey over its left half, and a garage beside it that nothing stands on.
Site house_with_garage() {
  Storey ground = level("ground", 0, 2.5);
  ground.rooms = {{"living", rectangle({0, 0}, 4, 4)}, {"garage", rectangle({4, 0}, 4, 4)}};
  Storey upper = level("upper", 2.75, 2.5);
  upper.rooms = {{"bedroom", rectangle({0, 0}, 4, 4)}};
  Site site = tower({ground, upper});
  site.hubs[0].place = {1, {3, 2}, 1.5};
  site.devices[0].place = {0, {6, 2}, 1};
  return site;
}

}  // namespace

TEST_CASE("a room has a roof of its own, instead of the storey's, where no storey stands on it") {
  Site site = house_with_garage();
  const auto over_garage = [&] { return slabs(Scene(site, Doors::armed), {5, 2, 1}, {6, 2, 4}); };
  const auto over_living = [&] { return slabs(Scene(site, Doors::armed), {2, 2, 1}, {3, 2, 4}); };
  CHECK(over_garage().empty());
  site.storeys[0].rooms[1].roof = Construction{"slab", 0.2};
  CHECK(validate(site).empty());
  CHECK(over_garage() == Names{fixture::roof_over("garage")});
  CHECK(over_living() == Names{fixture::floor_of("upper")});
  site.storeys[0].roof =
      Construction{"brick", 0.2};  // of the rooms that have none, and not under the bedroom
  CHECK(over_garage() == Names{fixture::roof_over("garage")});
  CHECK(over_living() == Names{fixture::floor_of("upper")});
  site.storeys[0].rooms[1].roof = Construction{kNoMaterial, {}};
  CHECK(over_garage().empty());
  site.storeys[0].rooms[1].roof.reset();
  CHECK(over_garage() == Names{fixture::roof_over("ground")});
  CHECK(Scene(site, Doors::armed).indoors({6, 2, 2.6}));
  CHECK_FALSE(Scene(site, Doors::armed).indoors({6, 2, 2.8}));
}

TEST_CASE("a room has a floor of its own, instead of the storey's") {
  Site site = house_with_garage();
  site.storeys[1].rooms = {{"bedroom", rectangle({0, 0}, 2, 4)}, {"bathroom", rectangle({2, 0}, 2, 4)}};
  const auto under = [&](double x) { return slabs(Scene(site, Doors::armed), {x, 2, 1}, {x, 1, 4}); };
  CHECK(under(1) == Names{fixture::floor_of("upper")});
  site.storeys[1].rooms[1].floor = Construction{"brick", 0.3};
  CHECK(validate(site).empty());
  CHECK(under(1) == Names{fixture::floor_of("upper")});
  CHECK(under(3) == Names{fixture::floor_of("bathroom")});
  // A line through the edge between the two meets one of them.
  CHECK(under(2).size() == 1);
  site.storeys[1].rooms[1].floor = Construction{kNoMaterial, {}};
  CHECK(under(3).empty());
  site.storeys[1].rooms[1].floor = Construction{"nothing such", 0.3};
  CHECK_FALSE(validate(site).empty());
}

TEST_CASE("the roof of an attached garage counts from upstairs, also in what rooms throw about") {
  Site site = house_with_garage();
  site.radio.diffraction = false;
  const double open_db = link_table(site).links[0].loss.path_loss_db;
  site.storeys[0].rooms[1].roof = Construction{"steel", 0.2};
  CHECK(link_table(site).links[0].loss.path_loss_db - open_db > 20);
  // What the garage throws about lives on what its roof throws back.
  const auto reverberant = [](const Site& of) {
    const Scene scene(of, Doors::armed);
    return scene.diffuse_field().power(*scene.diffuse_field().end(scene, {3, 2, 4}),
                                       *scene.diffuse_field().end(scene, {7, 1, 1}), 5);
  };
  site.radio.diffraction = true;
  site.materials.at("steel").reflects_percent = 95;
  const double closed = reverberant(site);
  site.storeys[0].rooms[1].roof = Construction{"board", 0.2};  // throws back a fifth
  CHECK(reverberant(site) < closed);
}

TEST_CASE(
    "a room that a storey stands on in part: each line up meets its floor or the roof beside it, once") {
  Site site = house_with_garage();
  site.radio.diffraction = false;
  site.storeys[0].rooms = {{"hall", rectangle({0, 0}, 8, 4)}};
  site.storeys[0].rooms[0].roof = Construction{"slab", 0.2};
  CHECK(validate(site).empty());
  const Scene scene(site, Doors::armed);
  const RandomStream random(5, 1);
  for (std::uint64_t i = 0; i < 5000; ++i) {
    const auto draw = [&](std::uint64_t k) { return random.uniform(4 * i + k); };
    const Point3 below{0.1 + 7.8 * draw(0), 0.1 + 3.8 * draw(1), 0.1 + 2.3 * draw(2)};
    const Point3 above{0.1 + 3.8 * draw(3), 2, 3.5};  // in the bedroom
    CAPTURE(below.x);
    CAPTURE(below.z);
    CAPTURE(above.x);
    const Path path = trace(scene, below, above);
    int slab = 0, wall = 0;
    for (const Crossing& crossing : path.crossings) {
      if (crossing.barrier == kNone) continue;
      ++(scene.barriers()[crossing.barrier].cause == LossCause::floor ? slab : wall);
    }
    CHECK(slab == 1);
    CHECK(wall <= 1);  // the outer wall of the bedroom, where the line came through the roof beside it
  }
  // What is thrown about passes the floor where the bedroom stands, not an opening in the roof under it.
  Site floorless = site;
  floorless.storeys[1].floor = Construction{kNoMaterial, {}};
  const auto power = [](const Site& of) {
    const Scene made(of, Doors::armed);
    return made.diffuse_field().power(*made.diffuse_field().end(made, {3, 2, 4}),
                                      *made.diffuse_field().end(made, {7, 1, 1}), 5);
  };
  site.radio.diffraction = floorless.radio.diffraction = true;
  CHECK(power(floorless) > 2 * power(site));
}
