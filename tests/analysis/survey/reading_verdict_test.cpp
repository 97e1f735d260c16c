#include "linkmargin/analysis/survey/reading_verdict.hpp"

#include "linkmargin/propagation/fading/fading.hpp"

#include "fixtures/link_table_fixture.hpp"
#include "fixtures/near.hpp"
#include "fixtures/reading_scale.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

using namespace linkmargin;
using fixture::kFrequencyHz;
using fixture::kHalfDecibelScale;

namespace {

Link read_link(double level_dbm, double sigma_db, double sensitivity_dbm = -110) {
  Link link;
  link.device = "contact";
  link.uplink = fixture::way(level_dbm, sensitivity_dbm, kHalfDecibelScale);
  link.loss.sigma_db = link.sigma_db = sigma_db;
  return link;
}

ReadingAnswer answer(const Link& link, double percent, const SpotSearchOptions& options = {}) {
  return reading_verdict(FadingModel{Fading{}}, kHalfDecibelScale, kFrequencyHz, link, percent, options);
}

}  // namespace

TEST_CASE("a reading becomes the level of the direction that reads lower") {
  Link link = read_link(-80, 5);
  const SpotReading exact = spot_reading(kHalfDecibelScale, link, 28);
  CHECK(near(exact.level.value, -91, 1e-12));
  CHECK(exact.kind == ReadingKind::exact);
  CHECK(near(exact.over_predicted.value, -11, 1e-12));
  link.downlink = fixture::way(-83, -110, kHalfDecibelScale);
  CHECK(near(spot_reading(kHalfDecibelScale, link, 28).over_predicted.value, -8, 1e-12));
  CHECK_THROWS_AS(spot_reading(kHalfDecibelScale, link, -1), DomainError);
  CHECK_THROWS_AS(spot_reading(kHalfDecibelScale, link, 100.5), DomainError);
}

TEST_CASE("0 and 100 % are bounds; what is not heard reads 0 too") {
  const SpotReading nothing = spot_reading(kHalfDecibelScale, read_link(-80, 5), 0);
  CHECK(nothing.kind == ReadingKind::at_most);
  CHECK(nothing.level == Dbm{-105});
  Link dull = read_link(-80, 5, -98);
  dull.uplink.noise_rise = Db{3};
  CHECK(spot_reading(kHalfDecibelScale, dull, 0).level == Dbm{-95});
  const SpotReading full = spot_reading(kHalfDecibelScale, read_link(-80, 5), 100);
  CHECK(full.kind == ReadingKind::at_least);
  CHECK(full.level == Dbm{-55});
}

TEST_CASE("the comparison counts the spread of wall and fade together") {
  const FadingModel fading_model{Fading{}};
  const Link link = read_link(-80, 6);
  const ReadingAnswer low = answer(link, 30);  // -90 dBm
  CHECK(near(low.as_low_probability, 1 - fading_model.chance(Dbm{-80}, Dbm{-90}, 6, kSpotKBehindWallsDb),
             1e-12));
  CHECK(near(low.as_low_probability + low.as_high_probability, 1, 1e-12));
  const double k_db = kSpotKBehindWallsDb;
  CHECK(near(low.deviations, (-10 - rician_mean_db(k_db)) / std::hypot(6, rician_deviation_db(k_db)), 1e-12));
  CHECK(near(low.shadow.mean_db + low.fade.mean_db, -10, 1e-9));
  CHECK(low.place_probability > 0);
  CHECK(low.place_probability < 1);
}

TEST_CASE("what is read decides whether it is enough") {
  CHECK(answer(read_link(-80, 5), 40).verdict == ReadingVerdict::fine);
  CHECK(answer(read_link(-95, 5), 40).enough());
  CHECK_FALSE(answer(read_link(-60, 5), 39).enough());
  CHECK(answer(read_link(-100, 4), 60).verdict == ReadingVerdict::better);
  CHECK(answer(read_link(-70, 4), 100).verdict == ReadingVerdict::better);
  CHECK(answer(read_link(-56, 4), 100).verdict == ReadingVerdict::fine);
  // 25 dB under a sure prediction, and enough all the same: something is wrong.
  const ReadingAnswer low = answer(read_link(-60, 2), 40);
  CHECK(low.verdict == ReadingVerdict::low);
  CHECK(low.enough());
  CHECK(low.as_low_probability < kRareProbability);
  const FadingModel fading_model{Fading{}};
  CHECK(is_far_lower(fading_model, kHalfDecibelScale, read_link(-60, 2), 40));
  CHECK_FALSE(is_far_lower(fading_model, kHalfDecibelScale, read_link(-60, 2), 90));
  CHECK_FALSE(is_far_lower(fading_model, kHalfDecibelScale, read_link(-30, 2), 100));  // a bound
  CHECK(answer(read_link(-30, 2), 100).verdict == ReadingVerdict::fine);
  ReadingScale lax = kHalfDecibelScale;
  lax.weak_below_percent = 0;
  CHECK_FALSE(reading_verdict(FadingModel{Fading{}}, lax, kFrequencyHz, read_link(-80, 5), 0).enough());
}

TEST_CASE("weak: a fade where the place is enough, a wall where it is short, else what the plan lacks") {
  const ReadingAnswer fade =
      answer(read_link(-76, 4), 28);  // -91 dBm where -76 is predicted with some certainty
  CHECK(fade.verdict == ReadingVerdict::fade);
  CHECK(fade.fade.mean_db < -8);
  CHECK(fade.place_probability > 0.8);
  REQUIRE(fade.spots.choice() != nullptr);
  CHECK(fade.spots.choice()->pass_probability > 0.9);

  const ReadingAnswer wall = answer(read_link(-98, 4), 14);  // as predicted
  CHECK(wall.verdict == ReadingVerdict::wall);
  CHECK(std::abs(wall.fade.mean_db) < 2);
  CHECK(wall.spots.choice()->pass_probability < 0.05);

  const ReadingAnswer gone = answer(read_link(-66, 4), 14);  // 32 dB under what walls and fade allow
  CHECK(gone.verdict == ReadingVerdict::unexplained);
  CHECK(gone.as_low_probability < kRareProbability);

  // No more than a fade for a prediction that is not sure.
  CHECK(answer(read_link(-66, 15), 14).verdict != ReadingVerdict::unexplained);
  // 0 % where little more was predicted fits; where much was, it does not.
  CHECK(answer(read_link(-103, 5), 0).verdict == ReadingVerdict::wall);
  CHECK(answer(read_link(-70, 5), 0).verdict == ReadingVerdict::unexplained);
}

TEST_CASE("verdicts go from missing to fine as the reading rises") {
  for (const double level_dbm : {-70.0, -80.0, -87.0, -95.0}) {
    int before = 0;
    for (int percent = 0; percent <= 100; ++percent) {
      CAPTURE(level_dbm);
      CAPTURE(percent);
      const auto rank = [](ReadingVerdict verdict) {
        switch (verdict) {
          case ReadingVerdict::unexplained:
            return 0;
          case ReadingVerdict::wall:
            return 1;
          case ReadingVerdict::fade:
            return 2;
          case ReadingVerdict::low:
            return 3;
          case ReadingVerdict::fine:
            return 4;
          case ReadingVerdict::better:
            return 5;
        }
        return -1;
      };
      const int now = rank(answer(read_link(level_dbm, 5), percent).verdict);
      CHECK(now >= before);
      CHECK((now >= 3) == (percent >= 40));
      before = now;
    }
  }
}

TEST_CASE("a mount that allows nothing leaves a fade a fade") {
  const ReadingAnswer held = answer(read_link(-76, 4), 28, {.reach_m = 0});
  CHECK(held.verdict == ReadingVerdict::fade);
  CHECK(held.spots.trials.empty());
  CHECK(answer(read_link(-98, 4), 14, {.reach_m = 0}).verdict == ReadingVerdict::wall);
}

TEST_CASE("fading off: all is shadow, and no shift helps") {
  Fading fading;
  fading.on = false;
  const ReadingAnswer all =
      reading_verdict(FadingModel(fading), kHalfDecibelScale, kFrequencyHz, read_link(-80, 5), 30);
  CHECK(all.shadow.mean_db == -10);
  CHECK(all.shadow.deviation_db == 0);
  CHECK(all.fade.mean_db == 0);
  CHECK(all.verdict == ReadingVerdict::wall);
  CHECK(near(all.deviations, -2, 1e-4));
  CHECK(
      reading_verdict(FadingModel(fading), kHalfDecibelScale, kFrequencyHz, read_link(-80, 5), 10).verdict ==
      ReadingVerdict::unexplained);
  CHECK(reading_verdict(FadingModel(fading), kHalfDecibelScale, kFrequencyHz, read_link(-80, 0), 0).verdict ==
        ReadingVerdict::unexplained);
}

TEST_CASE("what may move says how far the spots reach") {
  Site site;
  Device& device = site.devices.emplace_back();
  device.name = "contact";
  const Link link = read_link(-80, 5);
  CHECK(centimetre_options(site, link).reach_m == std::numeric_limits<double>::infinity());
  device.may_move = Mobility{Mobility::Radius{0.1}};
  CHECK(centimetre_options(site, link).reach_m == 0.1);
  CHECK_FALSE(centimetre_options(site, link).along_line);
  device.may_move = Mobility{Mobility::Along{{{0, 0}, {0, 2}}}};
  CHECK(centimetre_options(site, link).reach_m == 2);
  CHECK(centimetre_options(site, link).along_line);
}

TEST_CASE("a reading lower than any fade is of something broken; another spot is no cure") {
  CHECK(answer(read_link(-60, 5), 2).beyond_fading);         // 44 dB too low
  CHECK_FALSE(answer(read_link(-60, 5), 40).beyond_fading);  // 25 dB: one spot in 300 lies so deep
  CHECK_FALSE(answer(read_link(-60, 5), 90).beyond_fading);
  CHECK_FALSE(answer(read_link(-60, 25), 2).beyond_fading);  // so unsure of the place, the walls may be it
  const std::vector<TriedSpot> read{{{}, 2}, {{0.09, 0, 0}, 3}};
  const ReadingAnswer tried =
      readings_verdict(FadingModel{Fading{}}, kHalfDecibelScale, kFrequencyHz, read_link(-60, 5), read);
  CHECK(tried.verdict == ReadingVerdict::unexplained);
}
