#include "linkmargin/link/fading_model.hpp"

#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/propagation/fading/composite_fading.hpp"
#include "linkmargin/propagation/fading/fading.hpp"

#include "fixtures/near.hpp"
#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>

using namespace linkmargin;

TEST_CASE("without fading the chance is that of a log-normal level") {
  Fading fading;
  fading.on = false;
  const FadingModel mean(fading);
  // published.md 9, margins: sigma 6 dB, 90 / 95 / 99 %: 7.689 / 9.869 / 13.958 dB, within the last digit.
  for (const double k_db : {-20.0, 7.0}) {
    CHECK(near(mean.chance(Dbm{-85 + 7.689}, Dbm{-85}, 6, k_db), 0.90, 0.00002));
    CHECK(near(mean.chance(Dbm{-85 + 9.869}, Dbm{-85}, 6, k_db), 0.95, 0.00002));
    CHECK(near(mean.chance(Dbm{-85 + 13.958}, Dbm{-85}, 6, k_db), 0.99, 0.00002));
    CHECK(mean.chance(Dbm{-85}, Dbm{-85}, 6, k_db) == 0.5);
    CHECK(mean.chance(Dbm{-85}, Dbm{-85}, 0, k_db) == 1);
    CHECK(mean.chance(Dbm{-85.001}, Dbm{-85}, 0, k_db) == 0);
    const LevelInterval interval = mean.interval(Dbm{-70}, 0.9, 4, k_db);
    CHECK(near(interval.low.value, -70 - 1.644854 * 4, 1e-5));
    CHECK(near(interval.high.value, -70 + 1.644854 * 4, 1e-5));
  }
  CHECK(mean.k_db(LossBreakdown{}) == std::numeric_limits<double>::infinity());
  CHECK(mean.outage(Db{0}) == 0);
  CHECK(mean.outage(Db{-0.1}) == 1);
}

TEST_CASE("fading is milder with a greater K, and the interval holds what it says") {
  const FadingModel fading_model{Fading{}};
  // No spread of the mean: the fade alone, K 7 dB 10 % at -4.425 dB (published.md 9).
  CHECK(near(fading_model.chance(Dbm{-80.575}, Dbm{-85}, 0, 7), 0.90, 0.0001));
  CHECK(fading_model.chance(Dbm{-80.575}, Dbm{-85}, 0, 2) < 0.85);
  for (const double k_db : {-60.0, 2.0, 4.31, 7.0, 60.0}) {
    const LevelInterval interval = fading_model.interval(Dbm{-70}, 0.9, 5, k_db);
    CHECK(near(fading_model.chance(Dbm{-70}, interval.low, 5, k_db), 0.95, 1e-5));
    CHECK(near(fading_model.chance(Dbm{-70}, interval.high, 5, k_db), 0.05, 1e-5));
    double before = 1;
    for (double needed_dbm = -140; needed_dbm < -20; needed_dbm += 0.5) {
      const double chance = fading_model.chance(Dbm{-70}, Dbm{needed_dbm}, 5, k_db);
      CHECK(chance <= before + 1e-9);
      CHECK(chance >= 0);
      before = chance;
    }
  }
  CHECK(near(fading_model.outage(Db{4.425}), 0.1, 0.0001));
  CHECK(fading_model.chance(Dbm{-1e5}, Dbm{-85}, 50, 2) == 0);  // beyond the ranges: the end of them
}

TEST_CASE("between two K the chance is within 2e-4 of one sum of its own") {
  const FadingModel fading_model{Fading{}};
  double worst = 0;
  for (double k_db = -19.75; k_db < 20; k_db += 0.5) {
    const CompositeFading exact(k_db);
    for (const double sigma_db : {0.0, 2.0, 6.0}) {
      for (double over_db = -25; over_db < 12; over_db += 0.5) {
        const double chance = fading_model.chance(Dbm{0}, Dbm{over_db}, sigma_db, k_db);
        worst = std::max(worst, std::abs(chance - (1 - exact.cdf(over_db, sigma_db))));
      }
    }
  }
  CHECK(worst <= 2e-4);
}

TEST_CASE("K follows from what is steady and what echoes bring, unless the site states it") {
  LossBreakdown loss;
  const FadingModel usual{Fading{}};
  CHECK(usual.k_db(loss) == kSpotKBehindWallsDb);
  loss.line_of_sight = true;
  CHECK(usual.k_db(loss) == kMostSpotKDb);
  loss.reverberant_ratio = 0;
  CHECK(usual.k_db(loss) == kMostSpotKDb);
  double before_db = kMostSpotKDb + 0.001;
  for (double ratio = 0.06; ratio < 1e6; ratio *= 1.3) {
    loss.reverberant_ratio = ratio;
    loss.line_of_sight = ratio < 1;  // makes no step
    const double k_db = usual.k_db(loss);
    CHECK(k_db <= before_db);
    if (before_db < kMostSpotKDb) CHECK(before_db - k_db < 1.3);
    CHECK(k_db >= kLeastUnturnedKDb);
    before_db = k_db;
  }
  Fading stated;
  stated.k_in_sight_db = 9;
  CHECK(FadingModel(stated).k_db(loss) == usual.k_db(loss));
  stated.k_behind_walls_db = -3;
  CHECK(FadingModel(stated).k_db(loss) == -3);
  loss.line_of_sight = true;
  CHECK(FadingModel(stated).k_db(loss) == 9);
}

TEST_CASE("in sight means that nothing stands between and that echoes bring less") {
  Site quiet = fixture::two_rooms();
  quiet.radio.reverberation = false;
  const Scene silent(quiet, Doors::armed);
  Site rooms = fixture::two_rooms();
  int before = -1;
  for (const double reflects_percent : {2.0, 30.0, 80.0}) {
    CAPTURE(reflects_percent);
    for (auto& [name, material] : rooms.materials) material.reflects_percent = reflects_percent;
    const Scene scene(rooms, Doors::armed);
    int outweighed = 0;
    for (double x = 0.35; x < 8; x += 0.1) {
      CAPTURE(x);
      const Point3 from{0.2, 0.2, 1.5};
      const Point3 to{x, std::min(x, 3.8), 1.5};
      const LossBreakdown loss = path_loss(scene, from, to);
      const LossBreakdown direct = path_loss(silent, from, to);
      CHECK(direct.line_of_sight == (x < 4));
      if (x > 4) {
        CHECK_FALSE(loss.line_of_sight);
        continue;
      }
      double echoed = 0;  // share of the power: the item's deviation is 3 dB of it
      for (const LossItem& item : loss.items)
        if (item.cause == LossCause::reverberation) echoed = item.sigma_db / 3;
      CHECK(loss.line_of_sight == (echoed <= 0.5));
      outweighed += loss.line_of_sight ? 0 : 1;
    }
    CHECK(outweighed > before);
    CHECK(outweighed < 37);  // beside the transmitter the straight line always brings more
    before = outweighed;
  }
}

TEST_CASE("a model that counts no wall knows all the same what stands in sight") {
  Site site = fixture::two_rooms();
  for (const PathLossModel model : {PathLossModel::free_space, PathLossModel::log_distance,
                                    PathLossModel::multi_wall, PathLossModel::site_general}) {
    site.radio.model = model;
    const Scene scene(site, Doors::armed);
    CHECK(path_loss(scene, {1, 2, 1.5}, {3, 2, 1.5}).line_of_sight);
    CHECK_FALSE(path_loss(scene, {1, 2, 1.5}, {7, 2, 1.5}).line_of_sight);
  }
}
