#include "linkmargin/link/reliability.hpp"

#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/propagation/fading.hpp"

#include "site_fixture.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

using namespace linkmargin;

namespace {

bool near(double left, double right, double within) {
  return std::abs(left - right) <= within;
}

}  // namespace

TEST_CASE("without fading the chance is that of a log-normal level") {
  Fading fading;
  fading.on = false;
  const Reliability mean(fading);
  // published.md 9, margins: sigma 6 dB, 90 / 95 / 99 %: 7.689 / 9.869 / 13.958 dB, within the last digit.
  for (const bool in_sight : {false, true}) {
    CHECK(near(mean.chance(Dbm{-85 + 7.689}, Dbm{-85}, 6, in_sight), 0.90, 0.00002));
    CHECK(near(mean.chance(Dbm{-85 + 9.869}, Dbm{-85}, 6, in_sight), 0.95, 0.00002));
    CHECK(near(mean.chance(Dbm{-85 + 13.958}, Dbm{-85}, 6, in_sight), 0.99, 0.00002));
    CHECK(mean.chance(Dbm{-85}, Dbm{-85}, 6, in_sight) == 0.5);
    CHECK(mean.chance(Dbm{-85}, Dbm{-85}, 0, in_sight) == 1);
    CHECK(mean.chance(Dbm{-85.001}, Dbm{-85}, 0, in_sight) == 0);
    const LevelInterval interval = mean.interval(Dbm{-70}, 0.9, 4, in_sight);
    CHECK(near(interval.low.value, -70 - 1.644854 * 4, 1e-5));
    CHECK(near(interval.high.value, -70 + 1.644854 * 4, 1e-5));
    CHECK(mean.k_db(in_sight) == std::numeric_limits<double>::infinity());
  }
  CHECK(mean.outage(Db{0}) == 0);
  CHECK(mean.outage(Db{-0.1}) == 1);
}

TEST_CASE("fading is milder in sight, and the interval holds what it says") {
  const Fading fading;
  const Reliability reliability(fading);
  CHECK(reliability.k_db(true) == fading.k_in_sight_db);
  CHECK(reliability.k_db(false) == fading.k_behind_walls_db);
  // No spread of the mean: the fade alone, K 7 dB 10 % at -4.425 dB (published.md 9).
  CHECK(near(reliability.chance(Dbm{-80.575}, Dbm{-85}, 0, true), 0.90, 0.0001));
  CHECK(reliability.chance(Dbm{-80.575}, Dbm{-85}, 0, false) < 0.85);
  for (const bool in_sight : {false, true}) {
    const LevelInterval interval = reliability.interval(Dbm{-70}, 0.9, 5, in_sight);
    CHECK(near(reliability.chance(Dbm{-70}, interval.low, 5, in_sight), 0.95, 1e-5));
    CHECK(near(reliability.chance(Dbm{-70}, interval.high, 5, in_sight), 0.05, 1e-5));
    double before = 1;
    for (double needed_dbm = -140; needed_dbm < -20; needed_dbm += 0.5) {
      const double chance = reliability.chance(Dbm{-70}, Dbm{needed_dbm}, 5, in_sight);
      CHECK(chance <= before + 1e-9);
      CHECK(chance >= 0);
      before = chance;
    }
  }
  CHECK(near(reliability.outage(Db{4.425}), 0.1, 0.0001));
  CHECK(reliability.chance(Dbm{-1e5}, Dbm{-85}, 50, false) == 0);  // beyond the ranges: the end of them
}

TEST_CASE("in sight means that nothing stands between and that echoes bring less") {
  Site rooms = fixture::two_rooms();
  int before = 0;
  for (const double reflects_percent : {50.0, 99.0}) {
    for (auto& [name, material] : rooms.materials) material.reflects_percent = reflects_percent;
    const Scene scene(rooms, Doors::armed);
    int outweighed = 0;
    for (double x = 0.3; x < 8; x += 0.1) {
      const LossBreakdown loss = path_loss(scene, {0.2, 0.2, 1.5}, {x, 3.8, 1.5});
      if (x > 4) {
        CHECK_FALSE(loss.in_sight);
        continue;
      }
      double echoes_db = 0;
      for (const LossItem& item : loss.items) echoes_db += item.name == kEchoesName ? -item.loss_db : 0;
      CHECK(loss.in_sight == (echoes_db <= 10 * std::log10(2.0)));
      outweighed += loss.in_sight ? 0 : 1;
    }
    CHECK(outweighed > before);
    before = outweighed;
  }
}
