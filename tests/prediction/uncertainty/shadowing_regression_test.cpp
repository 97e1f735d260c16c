#include "linkmargin/analysis/coverage/coverage.hpp"
#include "linkmargin/prediction/fitted_shadowing.hpp"
#include "linkmargin/prediction/link_table.hpp"

#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace linkmargin;

namespace {

constexpr double kLocalDb = 4;  ///< of one hall: the model's own spread alone
const Point3 kHub{1, 2, 1.5};

/// One hall without fading, so that a spot is spread by the receiver's decibel alone.
Site hall() {
  Site site = fixture::two_rooms();
  site.radio.diffraction = false;
  site.fading.on = false;
  site.reading = {.zero = Dbm{-100}, .full = Dbm{0}, .weak_below_percent = 40};
  site.storeys[0].rooms = {{"hall", rectangle({0, 0}, 60, 8)}};
  return site;
}

double predicted_dbm(const Site& site, Point2 at) {
  Site moved = site;
  moved.devices[0].place.at = at;
  return link_table(moved).links[0].lower().level.value;
}

/// A reading of the contact carried to a place, so far off what is predicted there.
Reading off_by(const Site& site, Point2 at, double off_db) {
  Reading reading;
  reading.device = "contact";
  reading.level = Dbm{predicted_dbm(site, at) + off_db};
  reading.place = Placement{0, at, 1.5};
  return reading;
}

LocalMean mean_at(const ShadowingRegression& nearby, Point3 device, double sigma_db = kLocalDb) {
  return nearby.at(device, kHub, sigma_db, kLocalDb);
}

LocalMean mean_at(const ShadowingRegression& nearby, Point2 at) {
  return mean_at(nearby, Point3{at.x, at.y, 1.5});
}

std::vector<Reading> some_readings(const Site& site) {
  std::vector<Reading> readings;
  const RandomStream random(7, 3);
  for (std::uint64_t i = 0; i < 12; ++i) {
    const Point2 at = snapped({2 + 8 * random.uniform(3 * i), 0.5 + 7 * random.uniform(3 * i + 1)});
    readings.push_back(off_by(site, at, 10 * random.uniform(3 * i + 2) - 5));
  }
  readings.push_back(fixture::read_of("contact", 100));
  readings.push_back(fixture::read_of("contact", 0));
  return readings;
}

bool same(const LocalMean& a, const LocalMean& b, double within_db = 1e-9) {
  return std::abs(a.shift_db - b.shift_db) <= within_db && std::abs(a.sigma_db - b.sigma_db) <= within_db;
}

constexpr double kSettledDb = 5e-5;  ///< the steps end when none moves a mean by 1e-6 dB

}  // namespace

TEST_CASE("read again and again, what lasts is known, and what another day brings stays open") {
  // 0.866 of the deviation lasts; of 4 dB 2 dB are left.
  const Site site = hall();
  const ShadowingRegression once = fitted_shadowing(site, {off_by(site, {6, 3}, 4)}, Doors::armed);
  const ShadowingRegression often =
      fitted_shadowing(site, std::vector<Reading>(200, off_by(site, {6, 3}, 4)), Doors::armed);
  CHECK(std::abs(mean_at(often, Point2{6, 3}).shift_db - 0.866 * 4) <= 0.05);
  CHECK(std::abs(mean_at(often, Point2{6, 3}).sigma_db - 2) <= 0.01);
  CHECK(std::abs(mean_at(once, Point2{6, 3}).shift_db - 0.866 * 4) <= 0.3);
  CHECK(mean_at(once, Point2{6, 3}).sigma_db <= 2.3);
  CHECK(mean_at(once, Point2{6, 3}).sigma_db > mean_at(often, Point2{6, 3}).sigma_db);
}

TEST_CASE("the farther from a reading the less it tells, and far away nothing, bit for bit") {
  const Site site = hall();
  const ShadowingRegression nearby = fitted_shadowing(site, {off_by(site, {6, 3}, -5)}, Doors::armed);
  double shift_db = mean_at(nearby, Point2{6, 3}).shift_db, sigma_db = 0;
  for (const double x : {6.5, 7.0, 8.0, 10.0, 14.0, 20.0}) {
    const LocalMean mean = mean_at(nearby, Point2{x, 3});
    CHECK(mean.shift_db > shift_db);
    CHECK(mean.shift_db < 0);
    CHECK(mean.sigma_db > sigma_db);
    shift_db = mean.shift_db;
    sigma_db = mean.sigma_db;
  }
  CHECK(mean_at(nearby, Point2{40, 3}).shift_db == 0);
  CHECK(mean_at(nearby, Point2{40, 3}).sigma_db == kLocalDb);
  CHECK(nearby.at({6, 3, 1.5}, {40, 2, 1.5}, kLocalDb, kLocalDb).shift_db == 0);  // another hub
  CHECK(nearby.at({6, 3, 1.5}, {3, 2, 1.5}, kLocalDb, kLocalDb).shift_db >
        mean_at(nearby, Point2{6, 3}).shift_db);

  Site far = site;
  far.devices[0].place.at = {40, 3};
  const Link with = link_table(far, {.nearby = nearby}).links[0];
  const Link without = link_table(far).links[0];
  CHECK(with.nearby_shift_db == 0.0);
  CHECK(!without.nearby_shift_db);
  CHECK(with.uplink.level.value == without.uplink.level.value);
  CHECK(with.uplink.items.size() == without.uplink.items.size());
  CHECK(with.sigma_db == without.sigma_db);
  CHECK(with.pass_probability == without.pass_probability);
}

/// By nearby_readings_numpy.py, which has the same readings.
TEST_CASE("mean and spread are those of an independent computation") {
  const Site site = hall();
  const ShadowingRegression nearby = fitted_shadowing(
      site, {off_by(site, {5, 2}, 6), off_by(site, {6, 2}, 4), off_by(site, {7, 6}, -5)}, Doors::armed);
  const double length_m =
      -1 / std::log(nearby.shared_db2({0, {0, 0, 0}, kHub, 1, 0}, {0, {1, 0, 0}, kHub, 1, 0}));
  CHECK(std::abs(length_m - 1.8340) <= 5e-5);
  const struct {
    Point3 at;
    double shift_db, sigma_db;
  } expected[] = {{{5, 2, 1.5}, 4.957771, 2.137607},
                  {{5.5, 2.5, 1}, 3.083701, 3.201028},
                  {{2, 7, 1.5}, -0.056393, 3.992555}};
  for (const auto& row : expected) {
    CHECK(std::abs(mean_at(nearby, row.at).shift_db - row.shift_db) <= kSettledDb);
    CHECK(std::abs(mean_at(nearby, row.at).sigma_db - row.sigma_db) <= kSettledDb);
    CHECK(nearby.shift_db(row.at, kHub, kLocalDb) == mean_at(nearby, row.at).shift_db);
  }
  // What calibration left open comes on top of what the place tells.
  const double wider = mean_at(nearby, Point3{5, 2, 1.5}, 5).sigma_db;
  CHECK(std::abs(wider * wider - 2.137607 * 2.137607 - 9) <= 1e-4);
}

TEST_CASE("one gross outlier moves the mean little, less the grosser it is") {
  const Site site = hall();
  const std::vector<Reading> good{off_by(site, {5, 3}, 1), off_by(site, {6, 3}, 2), off_by(site, {7, 3}, 1)};
  const auto shift_db = [&](double outlier_db) {
    std::vector<Reading> readings = good;
    readings.push_back(off_by(site, {6, 3.5}, outlier_db));
    return mean_at(fitted_shadowing(site, readings, Doors::armed), Point2{6, 3}).shift_db;
  };
  const double without = mean_at(fitted_shadowing(site, good, Doors::armed), Point2{6, 3}).shift_db;
  CHECK(std::abs(shift_db(-40) - without) <= 1);
  CHECK(std::abs(shift_db(-80) - without) <= std::abs(shift_db(-40) - without));
}

TEST_CASE("100 % far over the prediction pulls up, under it says nothing; 0 % the other way round") {
  Site site = hall();
  const double level_dbm = predicted_dbm(site, site.devices[0].place.at);
  const auto with_scale = [&](double zero_dbm, double full_dbm, double percent) {
    site.reading.zero = Dbm{zero_dbm};
    site.reading.full = Dbm{full_dbm};
    const std::vector<Reading> readings{fixture::read_of("contact", percent)};
    return mean_at(fitted_shadowing(site, readings, Doors::armed), Point2{7, 2});
  };
  CHECK(with_scale(-100, level_dbm + 8, 100).shift_db > 4);
  CHECK(std::abs(with_scale(-100, level_dbm - 15, 100).shift_db) <= 0.02);
  CHECK(with_scale(-100, level_dbm - 15, 100).sigma_db > 0.97 * kLocalDb);
  CHECK(with_scale(level_dbm - 8, 0, 0).shift_db < -4);
  CHECK(std::abs(with_scale(level_dbm + 15, level_dbm + 60, 0).shift_db) <= 0.02);
}

TEST_CASE("neither the order of readings nor the number of threads changes anything") {
  const Site site = hall();
  std::vector<Reading> readings = some_readings(site);
  const ShadowingRegression nearby = fitted_shadowing(site, readings, Doors::armed, 1);
  const ShadowingRegression threaded = fitted_shadowing(site, readings, Doors::armed, 3);
  std::ranges::reverse(readings);
  const ShadowingRegression reversed = fitted_shadowing(site, readings, Doors::armed);
  for (const double x : {2.0, 5.0, 6.5, 9.0, 12.0}) {
    const LocalMean mean = mean_at(nearby, Point2{x, 4});
    CHECK(mean.shift_db == mean_at(threaded, Point2{x, 4}).shift_db);
    CHECK(mean.sigma_db == mean_at(threaded, Point2{x, 4}).sigma_db);
    CHECK(same(mean, mean_at(reversed, Point2{x, 4})));
  }
}

TEST_CASE("a reading left out is as if it had not been taken, but for what outliers count") {
  const Site site = hall();
  std::vector<Reading> readings{off_by(site, {6, 3}, 3), off_by(site, {30, 3}, 4), off_by(site, {45, 3}, -2)};
  const ShadowingRegression all = fitted_shadowing(site, readings, Doors::armed);
  const ShadowingRegression less = all.without(1);
  readings.erase(readings.begin() + 1);
  const ShadowingRegression never = fitted_shadowing(site, readings, Doors::armed);
  for (const double x : {5.0, 6.0, 29.0, 30.0, 33.0, 44.0})
    CHECK(same(mean_at(less, Point2{x, 3}), mean_at(never, Point2{x, 3}), kSettledDb));
  CHECK(std::abs(mean_at(all, Point2{30, 3}).shift_db) > 3);
  CHECK(fitted_shadowing(site, {readings[0]}, Doors::armed).without(0).empty());
  CHECK_THROWS_AS((void)all.without(3), DomainError);

  // Near others it is what these alone say of the place, by the weights that they had with it.
  const std::vector<Reading> close{off_by(site, {5, 3}, 2), off_by(site, {6, 3}, 1),
                                   off_by(site, {6.5, 4}, 2)};
  const ShadowingRegression three = fitted_shadowing(site, close, Doors::armed);
  const ShadowingRegression two = fitted_shadowing(site, {close[0], close[2]}, Doors::armed);
  CHECK(std::abs(mean_at(three.without(1), Point2{6, 3}).shift_db - mean_at(two, Point2{6, 3}).shift_db) <=
        0.2);
  CHECK(std::abs(mean_at(three.without(1), Point2{6, 3}).sigma_db - mean_at(two, Point2{6, 3}).sigma_db) <=
        0.2);
}

TEST_CASE("a link carries the shift in levels, margins, readings and budgets, not in its path loss") {
  Site site = hall();
  site.fading.on = true;
  const ShadowingRegression nearby = fitted_shadowing(site, {off_by(site, {7, 2.5}, -9)}, Doors::armed);
  const Link with = link_table(site, {.nearby = nearby}).links[0];
  const Link without = link_table(site).links[0];
  REQUIRE(with.nearby_shift_db);
  const double shift_db = *with.nearby_shift_db;
  CHECK(shift_db < -2);
  CHECK(with.loss.path_loss_db == without.loss.path_loss_db);
  CHECK(with.sigma_db < without.sigma_db);
  CHECK(with.pass_probability < without.pass_probability);
  CHECK(with.high_percent < without.high_percent);
  for (const auto& [way, before] :
       {std::pair{with.uplink, without.uplink}, {*with.downlink, *without.downlink}}) {
    double sum = 0;
    for (const BudgetItem& item : way.items) sum += item.value_db;
    CHECK(std::abs(sum - way.level.value) <= 1e-9);
    CHECK(way.items.back().term == BudgetTerm::nearby_readings);
    CHECK(std::abs((way.margin - before.margin).value - shift_db) <= 1e-9);
    CHECK(std::abs(way.reading_percent - before.reading_percent - shift_db) <= 1e-9);  // 1 dB a percent
  }
}

TEST_CASE("areas near a reading follow it") {
  Site site = hall();
  Area area;
  area.name = "end";
  area.profile = "fob";
  area.corners = rectangle({9, 1}, 3, 3);
  site.areas = {area};
  const ShadowingRegression nearby = fitted_shadowing(site, {off_by(site, {10, 2}, -12)}, Doors::armed);
  const AreaCover with = link_table(site, {.nearby = nearby}).areas[0];
  const AreaCover without = link_table(site).areas[0];
  CHECK(with.worst_reading_percent < without.worst_reading_percent - 4);
}

TEST_CASE(
    "a map's cell is what check says there with readings, whatever the model counts; far cells as ever") {
  for (const std::uint64_t seed : {1, 2, 3, 4}) {
    Site site = fixture::random_block(seed, 1, 3, 2);
    site.radio.diffraction = seed % 2 == 0;
    site.profiles.at("contact").sensitivity = Dbm{-103};  // else both directions are as good as each other
    Hub second = site.hubs.front();
    second.name = "second";
    second.place.at = {8, 6};
    site.hubs.push_back(second);
    std::vector<Reading> readings;
    for (const Point2 at : {Point2{2, 3}, {4.5, 5}, {7, 1.5}}) {
      readings.push_back(off_by(site, at, at.x > 4 && at.x < 5 ? 7 : -8));
      readings.back().hub = at.x > 4 ? "second" : "hub";
    }
    const ShadowingRegression nearby = fitted_shadowing(site, readings, Doors::armed, 2);
    for (const bool chances : {true, false}) {
      const CoverageMap map = coverage(
          site, {.height_m = 1.5, .step_m = 0.5, .chances = chances, .nearby = nearby, .threads = 2});
      double worst_db = 0, worst_chance = 0, most_shift_db = 0;
      for (std::size_t cell = 0; cell < map.size(); cell += 3) {
        Site moved = site;
        moved.devices[0].place = {0, map.centre(cell), 1.5};
        const Link link = link_table(moved, {.nearby = nearby}).links[0];
        REQUIRE(link.hub == map.hub(cell).name);
        REQUIRE(weak_at(map, cell) == link.weak);
        worst_db = std::max(
            {worst_db, std::abs(value_at(map, cell, CoverageValue::level) - link.weaker().level.value),
             std::abs(value_at(map, cell, CoverageValue::loss) - link.loss.path_loss_db),
             std::abs(value_at(map, cell, CoverageValue::margin) - link.weaker().margin.value)});
        most_shift_db = std::max(most_shift_db, std::abs(*link.nearby_shift_db));
        if (chances)
          worst_chance = std::max(
              worst_chance, std::abs(value_at(map, cell, CoverageValue::chance) - link.pass_probability));
      }
      CHECK(worst_db <= 1e-4);
      CHECK(worst_chance <= 1e-4);
      CHECK(most_shift_db > 2);
    }
  }

  const Site site = hall();
  const ShadowingRegression nearby = fitted_shadowing(site, {off_by(site, {3, 3}, 6)}, Doors::armed);
  const CoverageOptions options{.height_m = 1.5, .step_m = 0.5};
  CoverageOptions told = options;
  told.nearby = nearby;
  const CoverageMap without = coverage(site, options), with = coverage(site, told);
  std::size_t far = 0;
  for (std::size_t cell = 0; cell < with.size(); ++cell) {
    if (with.centre(cell).x < 40) continue;
    ++far;
    CHECK(value_at(with, cell, CoverageValue::level) == value_at(without, cell, CoverageValue::level));
    CHECK(value_at(with, cell, CoverageValue::chance) == value_at(without, cell, CoverageValue::chance));
  }
  CHECK(far > 500);
}

TEST_CASE("a map filled in finds the peak at a reading") {
  Site site = fixture::random_block(3, 1, 3, 2);
  site.radio.diffraction = true;
  const ShadowingRegression nearby = fitted_shadowing(site, {off_by(site, {4.5, 5}, 9)}, Doors::armed);
  CoverageOptions options{.height_m = 1.5, .step_m = 0.1, .within_db = 0.5, .nearby = nearby, .threads = 2};
  const CoverageMap filled = coverage(site, options);
  options.within_db = 0;
  const CoverageMap exact = coverage(site, options);
  std::size_t off = 0;
  for (std::size_t cell = 0; cell < exact.size(); ++cell)
    off += std::abs(filled.nearby_shift_db[cell] - exact.nearby_shift_db[cell]) > 0.5 ? 1 : 0;
  CHECK(off * 1000 <= exact.size());
}
