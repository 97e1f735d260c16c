#include "linkmargin/analysis/coverage/direct_path_map.hpp"

#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/propagation/path_loss/free_space.hpp"

#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace linkmargin;

namespace {

constexpr double kToleranceDb = 1e-4;

std::vector<float> map_of(const Scene& scene, Point3 end, const LevelGrid& grid, int threads = 1) {
  std::vector<float> loss_db(grid.size(), -1);
  DirectPathMap(scene).find(end, grid, threads, loss_db);
  return loss_db;
}

/// The greatest difference from path_loss() over every cell.
double worst_db(const Scene& scene, Point3 end, const LevelGrid& grid) {
  const std::vector<float> loss_db = map_of(scene, end, grid);
  double worst = 0;
  for (std::size_t cell = 0; cell < grid.size(); ++cell) {
    const double expected_db = path_loss(scene, end, grid.centre(cell)).path_loss_db;
    worst = std::max(worst, std::abs(loss_db[cell] - expected_db));
  }
  return worst;
}

/// A block of rooms with slabs with stairwells, brick that depends on the angle, doors, screens and racks.
Site random_site(std::uint64_t seed) {
  const RandomStream random(seed, 5);
  const int storeys = 1 + static_cast<int>(seed % 3);
  Site site =
      fixture::random_block(seed, storeys, 2 + static_cast<int>(seed % 4), 1 + static_cast<int>(seed % 3));
  site.radio.diffraction = false;
  if (seed % 2 == 0) {
    for (Storey& storey : site.storeys) {
      storey.inner_wall = {"brick", 0.1};
      if (seed % 4 == 0) storey.floor = Construction{"brick", 0.3};
    }
  }
  for (Storey& storey : site.storeys) {
    const Point2 at = snapped({3 * random.uniform(1), 4 * random.uniform(2)});
    storey.floor_openings.push_back({.name = "stairs", .corners = rectangle(at, 1.5, 2.25)});
  }
  return site;
}

}  // namespace

TEST_CASE("every cell is the answer for a single link") {
  constexpr int sites = 200;
  constexpr int cells = 50;
  int compared = 0;
  double worst = 0;
  double lossiest_db = 0;
  for (std::uint64_t seed = 1; seed <= sites; ++seed) {
    const Site site = random_site(seed);
    const Scene scene(site, seed % 5 == 0 ? Doors::open : Doors::armed);
    const RandomStream random(seed, 77);
    const int columns = 2 + static_cast<int>(seed % 4);
    const int rows = 1 + static_cast<int>(seed % 3);
    const auto end = fixture::random_point(random, 1, static_cast<int>(site.storeys.size()), columns, rows);
    const LevelGrid grid{
        {-1 + 0.1 * random.uniform(2), -1 + 0.1 * random.uniform(3)},
        seed % 3 == 0 ? 0.125 : 0.05 + 0.1 * random.uniform(4),
        150,
        110,
        seed % 7 == 0 ? end.z : 2.75 * static_cast<double>(site.storeys.size()) * random.uniform(5)};
    const DirectPathMap map(scene);
    REQUIRE(map.uses_projection(end, grid.z_m));
    std::vector<float> loss_db(grid.size());
    map.find(end, grid, 1, loss_db);
    for (std::uint64_t i = 0; i < cells; ++i, ++compared) {
      const std::size_t cell = random.bits(100 + i) % grid.size();
      const double expected_db = path_loss(scene, end, grid.centre(cell)).path_loss_db;
      const double off_db = std::abs(loss_db[cell] - expected_db);
      worst = std::max(worst, off_db);
      lossiest_db = std::max(lossiest_db, expected_db);
    }
  }
  CHECK(compared == 10000);
  CHECK(lossiest_db > 150);
  CHECK(worst <= kToleranceDb);
}

TEST_CASE("every cell's spread and sight are those of a single link") {
  int compared = 0;
  int line_of_sight = 0;
  double worst = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    Site site = random_site(seed);
    if (seed % 6 == 0) site.radio.model = PathLossModel::multi_wall;
    if (seed % 10 == 0) site.radio.model = PathLossModel::log_distance;
    site.materials.at("board").sigma_db = seed % 4 == 0 ? 0 : 1;  // a wall without spread is in the way too
    const Scene scene(site, Doors::armed);
    const RandomStream random(seed, 79);
    const Point3 end = fixture::random_point(random, 1, static_cast<int>(site.storeys.size()),
                                             2 + static_cast<int>(seed % 4), 1 + static_cast<int>(seed % 3));
    const LevelGrid grid{{-0.97, -0.94}, 0.13, 60, 50, seed % 2 == 0 ? end.z : 1.3};
    std::vector<float> loss_db(grid.size());
    std::vector<float> sigma_db(grid.size());
    std::vector<std::uint8_t> sight(grid.size());
    DirectPathMap(scene).find(end, grid, 1, loss_db, {sigma_db, sight});
    const bool asked = site.radio.model == PathLossModel::log_distance;  // cell by cell: no wall counts
    CHECK((asked || loss_db == map_of(scene, end, grid)));
    for (std::uint64_t i = 0; i < 50; ++i, ++compared) {
      const std::size_t cell = random.bits(100 + i) % grid.size();
      const LossBreakdown loss = path_loss(scene, end, grid.centre(cell));
      worst = std::max(worst, std::abs(static_cast<double>(sigma_db[cell]) - loss.sigma_db));
      CHECK((sight[cell] == 1) == loss.line_of_sight);
      line_of_sight += sight[cell];
    }
  }
  CHECK(compared == 3000);
  CHECK(line_of_sight > 200);
  CHECK(worst <= kToleranceDb);
}

TEST_CASE(
    "centres on walls, on corners and on the edges of shadows are counted as a single link counts them") {
  double worst = 0;
  for (std::uint64_t seed = 1; seed <= 12; ++seed) {
    const Site site = random_site(seed);
    const Scene scene(site, Doors::armed);
    const RandomStream random(seed, 78);
    // Every room corner, 3 m by 4 m, is a centre; so is the end, which often stands on a wall or at a corner.
    const Point2 at{0.25 * std::floor(12 + 24 * random.uniform(0)),
                    0.25 * std::floor(32 * random.uniform(1))};
    for (const Point2 end : {at, Point2{3, 4}, Point2{3, 2}, Point2{1.5, 4}}) {
      for (const double z_m : {1.0, 1.5, 2.0, 2.75}) {  // 2.0: the heads of doors
        worst = std::max(worst, worst_db(scene, {end.x, end.y, 1.5}, {{-1.125, -1.125}, 0.25, 50, 40, z_m}));
      }
    }
  }
  CHECK(worst <= kToleranceDb);
}

TEST_CASE("the end may stand anywhere") {
  const Site site = random_site(14);
  const Scene scene(site, Doors::armed);
  const LevelGrid grid{{0.3, 0.2}, 0.11, 60, 50, 1.2};
  const Point2 on_screen = site.storeys[0].walls[0].line.a;
  const Point2 in_rack = centroid(site.storeys[0].obstacles[0].corners);
  const Point2 rack_corner = site.storeys[0].obstacles[0].corners[1];
  for (const Point2 at : {Point2{2, 2}, Point2{-8, 3}, Point2{40, 1}, Point2{2.5, -30}, Point2{3, 1},
                          Point2{3, 4}, on_screen, in_rack, rack_corner}) {
    for (const double z_m : {-3.0, 0.0, 0.5, 1.2, 1.2 + 1e-9, 1.3, 2.5, 7.0, 30.0}) {
      CAPTURE(at.x);
      CAPTURE(at.y);
      CAPTURE(z_m);
      CHECK(worst_db(scene, {at.x, at.y, z_m}, grid) <= kToleranceDb);
    }
  }
}

TEST_CASE("walls nearly along the rows, and others that lean by one step of the coordinates") {
  Site site = fixture::two_rooms();
  site.radio.diffraction = false;
  site.storeys[0].rooms.clear();
  const RandomStream random(9, 1);
  for (int i = 0; i < 40; ++i) {
    const auto draw = [&](int k) { return random.uniform(static_cast<std::uint64_t>(i * 8 + k)); };
    const Point2 from = snapped({10 * draw(0), 10 * draw(1)});
    const double long_m = 1 + 9 * draw(2);
    const double lean_m = kGridPitchM * std::floor(4 * draw(3));
    site.storeys[0].walls.push_back(
        {.name = "screen " + std::to_string(i),
         .line = {from, snapped(i % 2 == 0 ? from + Point2{long_m, lean_m} : from + Point2{lean_m, long_m})},
         .construction = {i % 3 == 0 ? "brick" : "board", 0.1},
         .height_m = 1 + draw(4)});
  }
  const Scene scene(site, Doors::armed);
  for (const double z_m : {0.7, 1.5, 2.2}) {
    CHECK(worst_db(scene, {5.03, 4.97, 1.5}, {{-0.5, -0.5}, 0.0625, 180, 180, z_m}) <= kToleranceDb);
    const Point2 end = site.storeys[0].walls[4].line.a;
    CHECK(worst_db(scene, {end.x, end.y, 1.5}, {{-0.47, -0.51}, 0.06, 180, 180, z_m}) <= kToleranceDb);
  }
}

TEST_CASE("free space is the closed form") {
  Site site = random_site(3);
  site.radio.model = PathLossModel::free_space;
  const Scene scene(site, Doors::armed);
  const LevelGrid grid{{-200, -100}, 1.7, 240, 120, 1.0};
  const Point3 end{1.25, 2.5, 3.0};
  const std::vector<float> loss_db = map_of(scene, end, grid);
  double worst = 0;
  for (std::size_t cell = 0; cell < grid.size(); ++cell) {
    const Point2 at = snapped(grid.centre(cell).plan());
    const double distance_m =
        std::sqrt((at.x - end.x) * (at.x - end.x) + (at.y - end.y) * (at.y - end.y) + 4);
    worst =
        std::max(worst, std::abs(loss_db[cell] - free_space_loss_db(distance_m, site.radio.frequency_hz)));
  }
  CHECK(worst <= 2e-5);  // half the spacing of floats at 100 dB is 4e-6
}

TEST_CASE("a map from a device holds what each cell's hub loses to it") {
  const Site site = random_site(4);
  const Scene scene(site, Doors::armed);
  const LevelGrid grid{{-0.4, -0.3}, 0.2, 40, 30, 1.1};
  const std::size_t device = 15 * 40 + 20;
  const Point3 at = grid.centre(device);
  const std::vector<float> from_device = map_of(scene, at, grid);
  double worst = 0;
  for (std::size_t hub = 0; hub < grid.size(); hub += 13) {
    const std::vector<float> from_hub = map_of(scene, grid.centre(hub), grid);
    worst = std::max(worst,
                     std::abs(static_cast<double>(from_hub[device]) - static_cast<double>(from_device[hub])));
  }
  CHECK(worst <= kToleranceDb);
}

TEST_CASE("any number of threads gives the same bytes") {
  const Site site = random_site(8);
  const Scene scene(site, Doors::armed);
  const LevelGrid grid{{-0.4, -0.3}, 0.03, 401, 377, 1.1};
  const Point3 end{2.2, 3.1, 2.1};
  const std::vector<float> one = map_of(scene, end, grid);
  CHECK(one == map_of(scene, end, grid, 2));
  CHECK(one == map_of(scene, end, grid, 3));
}

TEST_CASE("models that no sum of shadows gives are asked cell by cell") {
  Site site = random_site(5);  // three storeys
  const LevelGrid near{{0, 0}, 0.4, 20, 10, 1.0};
  const LevelGrid above{{0, 0}, 0.4, 20, 10, 4.0};
  const Point3 end{2.2, 3.1, 1.5};
  const auto check = [&](const LevelGrid& grid, bool casts) {
    const Scene scene(site, Doors::armed);
    CHECK(DirectPathMap(scene).uses_projection(end, grid.z_m) == casts);
    CHECK(worst_db(scene, end, grid) <= kToleranceDb);
  };
  site.radio.model = PathLossModel::multi_wall;
  check(near, true);
  check(above, false);
  site.radio.model = PathLossModel::log_distance;
  check(near, true);
  check(above, true);
  site.radio.model = PathLossModel::site_general;
  check(near, false);
  site.radio.form = SiteGeneralForm::power_loss;
  check(near, true);
  check(above, false);
  site.radio.model = PathLossModel::walls;
  site.radio.ground_reflection = true;
  check(near, false);
}

TEST_CASE("a map of another size than its grid is refused") {
  const Site site = random_site(1);
  const Scene scene(site, Doors::armed);
  std::vector<float> loss_db(7);
  CHECK_THROWS_AS(DirectPathMap(scene).find({1, 1, 1}, {{0, 0}, 1, 2, 4, 1}, 1, loss_db), DomainError);
  std::vector<std::uint8_t> sight(8);
  loss_db.resize(8);
  CHECK_THROWS_AS(DirectPathMap(scene).find({1, 1, 1}, {{0, 0}, 1, 2, 4, 1}, 1, loss_db, {{}, sight}),
                  DomainError);
}
