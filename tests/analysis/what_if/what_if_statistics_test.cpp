#include "linkmargin/analysis/what_if/what_if_statistics.hpp"

#include "linkmargin/analysis/what_if/what_if_changes.hpp"

#include "fixtures/parts.hpp"
#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace linkmargin;

TEST_CASE("quantiles of a histogram, to a tenth of a percent") {
  ReadingHistogram histogram;
  CHECK_FALSE(histogram.quantile(0.5));
  for (int i = 1; i <= 1000; ++i) histogram.add(i / 10.0);
  CHECK(histogram.count() == 1000);
  CHECK(std::abs(*histogram.quantile(0.05) - 5.0) < 1e-9);
  CHECK(std::abs(*histogram.quantile(0.5) - 50.0) < 1e-9);
  CHECK(std::abs(*histogram.quantile(1) - 100.0) < 1e-9);
  CHECK(std::abs(*histogram.quantile(0) - 0.1) < 1e-9);
  ReadingHistogram ends;
  ends.add(0);
  ends.add(100);
  CHECK(*ends.quantile(0.5) == 0);
  CHECK(std::abs(*ends.quantile(0.51) - 100) < 1e-9);
}

TEST_CASE("a histogram by parts of the scale: each run in one, the ends in the first and the last") {
  ReadingHistogram histogram;
  CHECK(histogram.shares(4) == std::vector<double>{0, 0, 0, 0});
  for (const double percent : {0.0, 24.9, 25.0, 74.9, 75.0, 99.9, 100.0, 100.0}) histogram.add(percent);
  CHECK(histogram.shares(4) == std::vector<double>{0.25, 0.125, 0.125, 0.5});
}

TEST_CASE("runs are counted by case, predictions apart from draws") {
  WhatIf runs{.sites = {{.file = "a", .site = fixture::two_rooms(), .cases = {{"same", {}}}}}};
  runs.draws = RandomDraws{3, 1};
  WhatIfStatistics statistics(runs);
  for (std::uint64_t run = 1; run <= 8; ++run) statistics.add(run, 10.0 * static_cast<double>(run), run % 2);
  CHECK(statistics.runs() == 8);
  const CaseStatistics& base = statistics.cases()[0];
  CHECK(base.predicted == 1);
  CHECK(base.predicted_pass == 0);
  CHECK(base.drawn == 3);
  CHECK(base.drawn_pass == 2);  // runs 2 and 4
  CHECK(std::abs(*statistics.cases()[1].predictions.quantile(0.5) - 50) < 1e-9);
  CHECK(std::abs(*statistics.cases()[1].draws.quantile(1) - 80) < 1e-9);
}

TEST_CASE("what a case changes: who turns weak, recovers, goes and comes") {
  Site site = fixture::two_rooms();
  Device second = site.devices.front();
  second.name = "second";
  second.mount_loss_db = 40;
  site.devices.push_back(second);
  site.reading = {.zero = Dbm{-105}, .full = Dbm{-20}, .weak_below_percent = 60};
  WhatIf runs{.sites = {{.file = "a", .site = site}}};
  const std::string first = site.devices.front().name;
  runs.sites[0].cases = {
      {"swap", {{"/devices/" + first + "/mount_loss_db", 40.0}, {"/devices/second/mount_loss_db", 0.0}}},
      {"gone", {{"/devices/second", Removal{}}}}};
  const auto changes = what_if_changes(runs, 0, {});
  REQUIRE(changes.size() == 3);
  CHECK(changes[0].weak_count == 1);
  CHECK(changes[0].turns_weak().empty());
  CHECK(changes[1].turns_weak() == std::vector<std::string>{first});
  CHECK(changes[1].recovers() == std::vector<std::string>{"second"});
  CHECK(changes[1].worst_device == first);
  CHECK(changes[2].weak_count == 0);
  CHECK(changes[2].recovers().empty());  // it is not there any more
}

TEST_CASE("what the lowest reading hangs on: a swept value and a wall, each by hand") {
  Site site = fixture::two_rooms();
  site.radio.reverberation = false;
  site.radio.model_sigma_db = 0;
  site.fading.on = false;
  site.reading = {.zero = Dbm{-105}, .full = Dbm{-5}, .weak_below_percent = 40};  // 1 % a dB
  WhatIf runs{.sites = {{.file = "a", .site = site}}};
  runs.sweep = {{"/radio/noise_rise_db", {0.0, 1.0}, {"0", "1"}},
                {"/materials/board/loss_db", {3.0, 8.0}, {"3", "8"}}};
  runs.draws = RandomDraws{5, 1};
  const auto swings = what_if_sensitivity(runs, 0, {});
  REQUIRE(swings.size() == 2);  // noise raises no level
  CHECK(swings[0].kind == Sensitivity::Kind::swept);
  CHECK(swings[0].path == "/materials/board/loss_db");
  CHECK(std::abs(swings[0].swing_percent() - 5) < 1e-6);
  CHECK(swings[0].low_at == "8");
  CHECK(swings[0].high_at == "3");
  CHECK(swings[1].kind == Sensitivity::Kind::element);
  CHECK(swings[1].part == fixture::wall_between("left", "right"));
  CHECK(std::abs(swings[1].swing_percent() - 2 * 1.2815515655446004) < 1e-6);  // the wall's deviation is 1 dB
}
