#include "linkmargin/link/mechanism/ground_reflection.hpp"

#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/propagation/path_loss/two_ray.hpp"

#include "fixtures/parts.hpp"
#include "fixtures/site_fixture.hpp"
#include "fixtures/warnings.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

using namespace linkmargin;

namespace {

Site yard(bool ground_reflection, PathLossModel model = PathLossModel::walls) {
  Site site = fixture::two_rooms();
  site.radio.ground_reflection = ground_reflection;
  site.radio.model = model;
  return site;
}

bool has_ground(const LossBreakdown& loss) {
  for (const LossItem& item : loss.items) {
    if (item.cause == LossCause::ground) return true;
  }
  return false;
}

double sum_db(const LossBreakdown& loss) {
  double sum = 0;
  for (const LossItem& item : loss.items) sum += item.loss_db;
  return sum;
}

}  // namespace

TEST_CASE(
    "an end in the yard brings the ground in, right after the distance, at 20 log10 d over the breakpoint") {
  Site site = yard(true);
  site.radio.reverberation = false;
  const Scene scene(site, Doors::armed);
  const Point3 gate{-60, 2, 1}, hall{1, 2, 1.5};
  const LossBreakdown loss = path_loss(scene, gate, hall);
  REQUIRE(loss.items.size() >= 3);
  CHECK(loss.items[0].cause == LossCause::distance);
  CHECK(loss.items[0].law == DistanceLaw{.code = DistanceLaw::Code::exponent, .figure = 2});
  CHECK(loss.items[1].cause == LossCause::ground);
  CHECK(loss.items[1].cause == LossCause::ground);
  CHECK(loss.items[2].part == fixture::outer_wall("left"));
  // 4 h1 h2 / lambda = 4 x 1 x 1.5 m2 / 0.345264 m = 17.378 m; 20 log10(61.002 / 17.378) = 10.907 dB.
  CHECK(std::abs(loss.items[1].loss_db - 10.907) <= 0.001);
  CHECK(loss.items[1].sigma_db == 0);
  CHECK(std::abs(sum_db(loss) - loss.path_loss_db) <= 1e-9);
  site.radio.ground_reflection = false;
  const LossBreakdown without = path_loss(Scene(site, Doors::armed), gate, hall);
  CHECK_FALSE(has_ground(without));
  CHECK(std::abs(loss.path_loss_db - without.path_loss_db - loss.items[1].loss_db) <= 1e-9);
}

TEST_CASE("nothing indoors, nothing up to the breakpoint, and low ends count as 0.1 m high") {
  Site site = yard(true);
  site.storeys[0].rooms.push_back({"gallery", rectangle({8, 0}, 150, 4)});
  const Scene scene(site, Doors::armed);
  CHECK_FALSE(has_ground(path_loss(scene, {1, 2, 1.5}, {150, 2, 1})));  // both ends in rooms
  CHECK(has_ground(path_loss(scene, {1, 2, 1.5}, {170, 2, 1})));        // one beyond the gallery
  CHECK(has_ground(path_loss(scene, {1, -2, 1.5}, {150, -2, 1})));      // both in the yard
  CHECK_FALSE(has_ground(path_loss(scene, {-1, 2, 1.5}, {10, 2, 1.5})));
  const auto loss_db = [&](double z_m) {
    return path_loss(scene, {1, -2, z_m}, {60, -2, 2}).items[1].loss_db;
  };
  const double expected_db = ground_reflection_db(std::hypot(59, 2 - 0.1), 0.1, 2, site.radio.frequency_hz);
  CHECK(std::abs(loss_db(0.1) - expected_db) <= 1e-9);
  CHECK(std::abs(loss_db(0) - expected_db) <= 0.001);  // the distance alone differs, by millimetres
  CHECK(std::abs(loss_db(-0.5) - expected_db) <= 0.01);
}

TEST_CASE("over the roof and on a mast an end is out of doors; heights count from the site's zero") {
  Site site = yard(true);
  site.storeys[0].roof = Construction{"slab", 0.25};
  const Scene scene(site, Doors::armed);
  CHECK(scene.indoors({1, 2, 0}));
  CHECK(scene.indoors({1, 2, 2.5}));
  CHECK(scene.indoors({1, 2, 2.75}));  // within the roof
  CHECK_FALSE(scene.indoors({1, 2, 2.76}));
  CHECK_FALSE(scene.indoors({1, 2, -0.01}));
  CHECK_FALSE(scene.indoors({-0.5, 2, 1}));
  CHECK(scene.indoors({0, 2, 1}) != scene.indoors({8, 2, 1}));  // a wall's line lies on one side of it
  CHECK(scene.indoors({1e-9, 2, 1}) == scene.indoors({0, 2, 1}));
  const auto excess_db = [&](double mast_m) {
    const LossBreakdown loss = path_loss(scene, {1, 2, mast_m}, {301, 2, 1.5});
    return has_ground(loss) ? loss.items[1].loss_db : 0;
  };
  CHECK(std::abs(excess_db(5) - excess_db(10) - 20 * std::log10(2)) <= 0.01);
}

TEST_CASE("models whose figures hold the ground already do not count it again, and a caution says so") {
  for (const PathLossModel model :
       {PathLossModel::free_space, PathLossModel::walls, PathLossModel::multi_wall,
        PathLossModel::log_distance, PathLossModel::site_general}) {
    CAPTURE(static_cast<int>(model));
    const Site site = yard(true, model);
    const bool counts = model != PathLossModel::log_distance && model != PathLossModel::site_general;
    CHECK(has_ground(path_loss(Scene(site, Doors::armed), {-90, 2, 1}, {1, 2, 1.5})) == counts);
    CHECK(fixture::has(site_warnings(site), WarningCode::ground_reflection_unused) == !counts);
    CHECK(validate(site).empty());
  }
}

TEST_CASE("with the ground the items still add up, and swapping the ends changes no bit") {
  Site site = fixture::random_block(21, 2, 4, 3);
  site.radio.ground_reflection = true;
  const Scene scene(site, Doors::armed);
  const RandomStream random(22, 1);
  bool add_up = true, same = true, second = true;
  int grounded = 0;
  for (std::uint64_t i = 0; i < 800; ++i) {
    Point3 a = fixture::random_point(random, 2 * i, 2, 4, 3);
    const Point3 b = fixture::random_point(random, 2 * i + 1, 2, 4, 3);
    if (i % 3 == 0) a.x -= 100;
    const LossBreakdown there = path_loss(scene, a, b);
    const LossBreakdown back = path_loss(scene, b, a);
    add_up &= std::abs(sum_db(there) - there.path_loss_db) <= 1e-9;
    same &= there.path_loss_db == back.path_loss_db && there.items.size() == back.items.size();
    for (std::size_t k = 0; same && k < there.items.size(); ++k) {
      same &= there.items[k].loss_db == back.items[k].loss_db && there.items[k].part == back.items[k].part;
    }
    grounded += has_ground(there) ? 1 : 0;
    if (has_ground(there)) second &= there.items[1].cause == LossCause::ground;
  }
  CHECK(add_up);
  CHECK(same);
  CHECK(second);
  CHECK(grounded > 200);
}

TEST_CASE("from device to hub the ground stays second, whichever end lies first") {
  Site site = yard(true);
  site.devices[0].place = {0, {90, 2}, 1};
  const auto second = [&] { return link_table(site).links.at(0).loss.items.at(1).cause; };
  CHECK(second() == LossCause::ground);
  std::swap(site.devices[0].place, site.hubs[0].place);
  CHECK(second() == LossCause::ground);
}
