#include "linkmargin/analysis/what_if/what_if.hpp"

#include "linkmargin/analysis/what_if/what_if_changes.hpp"
#include "linkmargin/yaml/site/site_yaml.hpp"
#include "linkmargin/yaml/site/tables.hpp"
#include "linkmargin/yaml/tree/text_file.hpp"

#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

using namespace linkmargin;

namespace {

Site pottery() {
  const std::string file = LINKMARGIN_DATA "/sites/kiln-lane.yaml";
  return parse_site(read_text_file(file).value(), file, embedded_tables()).value();
}

SweepAxis axis(std::string path, std::vector<EditValue> values) {
  SweepAxis made{std::move(path), std::move(values), {}};
  for (std::size_t i = 0; i < made.values.size(); ++i) made.texts.push_back(std::to_string(i));
  return made;
}

std::vector<WhatIfRow> rows_of(const WhatIf& what_if, const WhatIfOptions& options = {}) {
  std::vector<WhatIfRow> rows;
  linkmargin::what_if(what_if, options, {}, [&](WhatIfBlock block) {
    rows.insert(rows.end(), block.rows.begin(), block.rows.end());
    return true;
  });
  return rows;
}

/// Scenes come and go, are met again, and stay: frequency and materials change them, places and powers do
/// not.
WhatIf many_variants() {
  WhatIf made{.sites = {{.file = "kiln-lane.yaml", .site = pottery(), .cases = {}}}};
  made.sites[0].cases = {
      {"steel street door", {{"/storeys/ground/openings/street door/leaf", std::string("steel door")}}},
      {"hub in the hall", {{"/hubs/hub/at_m", Point2{6.5, 4.4}}}, true},
      {"noise", {{"/radio/noise_rise_db", 6.0}}},
      {"thicker stone", {{"/materials/kiln shell/loss_db", 40.0}, {"/devices/hall keypad/height_m", 1.1}}}};
  made.sweep = {axis("/hubs/hub/height_m", {1.0, 2.0}), axis("/radio/frequency_mhz", {868.3, 433.92})};
  return made;
}

void check_like(const WhatIfRow& row, const LinkTable& fresh) {
  const auto worst = std::ranges::min_element(fresh.links, {},
                                              [](const Link& link) { return link.weaker().reading_percent; });
  CHECK(row.worst_reading_percent == worst->weaker().reading_percent);
  CHECK(row.weak_count == fresh.weak_devices.size());
  CHECK(row.weak_areas == static_cast<std::size_t>(std::ranges::count_if(fresh.areas, &AreaCover::weak)));
  const auto named = std::ranges::find(fresh.links, row.worst_device, &Link::device);
  REQUIRE(named != fresh.links.end());
  CHECK(named->weaker().reading_percent == row.worst_reading_percent);
  CHECK(named->pass_probability == row.worst_pass_probability);
  REQUIRE(row.devices.size() == fresh.links.size());
  for (std::size_t i = 0; i < fresh.links.size(); ++i)
    CHECK(row.devices[i] ==
          WhatIfDevice{fresh.links[i].weaker().reading_percent, fresh.links[i].outcome == Outcome::weak});
  CHECK(row.weak_below_percent == fresh.reading.weak_below_percent);
}

}  // namespace

TEST_CASE("every variant is what check says of the edited site, bit for bit") {
  const WhatIf runs = many_variants();
  const WhatIfRuns numbers(runs);
  CHECK(numbers.count() == 20);
  const auto rows = rows_of(runs, {.devices = what_if_devices(runs)});
  REQUIRE(rows.size() == 20);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    CAPTURE(i);
    CHECK(rows[i].run == i + 1);
    CHECK(rows[i].variant == numbers.variant(i));
    const Site edited = variant_site(runs, numbers, rows[i].variant);
    check_like(rows[i], link_table(edited, {.doors = variant_doors(runs, rows[i].variant, Doors::armed)}));
  }
  const double base = rows_of({.sites = {{"", pottery(), {}}}}).front().worst_reading_percent;
  for (const WhatIfRow& row : rows) CHECK(row.worst_change_percent == row.worst_reading_percent - base);
}

TEST_CASE("random edits one after another, with one store of scenes") {
  SceneCacheSet scenes(2);
  const Site site = pottery();
  const std::vector<std::vector<Edit>> steps{
      {},
      {{"/reading/full_dbm", -50.0}},
      {{"/radio/exponent", 2.2}},
      {{"/radio/noise_rise_db", 3.0}},
      {{"/radio/diffraction", false}},
      {{"/radio/reverberation", false}},
      {{"/hubs/hub/storey", std::string("upper")}, {"/hubs/hub/at_m", Point2{3, 2}}},
      {{"/devices/hall keypad/at_m", Point2{7.8, 2.5}}},
      {{"/storeys/ground/inner_wall/material", std::string("stone")},
       {"/storeys/ground/inner_wall/thickness_m", 0.4}},
      {{"/storeys/ground/obstacles/kiln/material", std::string("steel rack")}},
      {{"/calibration/offset_db", -4.0}},
      {{"/radio/model_sigma_db", 6.0}},
      {{"/devices/hall keypad/mount_loss_db", 5.0}},
  };
  const RandomStream random(3, 1);
  int told = 0;
  for (std::uint64_t round = 0; round < 120; ++round) {
    std::vector<Edit> edits;
    for (std::uint64_t k = 0; k < 2; ++k) {
      const auto& step = steps[random.bits(2 * round + k) % steps.size()];
      edits.insert(edits.end(), step.begin(), step.end());
    }
    const auto edited = edited_site(site, edits);
    if (!edited) continue;
    ++told;
    const Doors doors = random.bits(1000 + round) % 3 == 0 ? Doors::open : Doors::armed;
    const LinkTable kept = link_table(*edited, {.doors = doors, .detail = TableDetail::chances}, scenes);
    const LinkTable fresh = link_table(*edited, {.doors = doors});
    CAPTURE(round);
    REQUIRE(kept.links.size() == fresh.links.size());
    for (std::size_t i = 0; i < fresh.links.size(); ++i) {
      CHECK(kept.links[i].loss.path_loss_db == fresh.links[i].loss.path_loss_db);
      CHECK(kept.links[i].sigma_db == fresh.links[i].sigma_db);
      CHECK(kept.links[i].pass_probability == fresh.links[i].pass_probability);
      CHECK(kept.links[i].weaker().level == fresh.links[i].weaker().level);
    }
    for (std::size_t i = 0; i < fresh.areas.size(); ++i)
      CHECK(kept.areas[i].share_percent == fresh.areas[i].share_percent);
  }
  CHECK(told >= 80);
}

TEST_CASE("the same rows for any number of threads and any part of the runs") {
  WhatIf runs = many_variants();
  runs.draws = RandomDraws{37, 5};
  const auto text_of = [](const WhatIfRow& row) {
    return std::to_string(row.run) + " " + row.worst_device + " " +
           std::to_string(row.worst_reading_percent) + " " + std::to_string(row.weak_count) + " " +
           std::to_string(row.worst_change_percent);
  };
  const auto all = rows_of(runs);
  REQUIRE(all.size() == 20 * 38);
  for (const int threads : {2, 3, 7}) {
    const auto again = rows_of(runs, {.threads = threads});
    REQUIRE(again.size() == all.size());
    for (std::size_t i = 0; i < all.size(); ++i) REQUIRE(text_of(again[i]) == text_of(all[i]));
  }
  std::vector<WhatIfRow> parts;
  for (const auto& [first, last] :
       {std::pair{1, 5}, std::pair{6, 300}, std::pair{301, 301}, std::pair{302, 760}}) {
    const auto part = rows_of(runs, {.first_run = static_cast<std::uint64_t>(first),
                                     .last_run = static_cast<std::uint64_t>(last),
                                     .threads = 2});
    parts.insert(parts.end(), part.begin(), part.end());
  }
  REQUIRE(parts.size() == all.size());
  for (std::size_t i = 0; i < all.size(); ++i) REQUIRE(text_of(parts[i]) == text_of(all[i]));
}

TEST_CASE("the difference is to the same draw of the site as it is") {
  WhatIf runs{.sites = {{.file = "", .site = pottery(), .cases = {{"same", {}}}}}};
  runs.draws = RandomDraws{50, 5};
  for (const WhatIfRow& row : rows_of(runs)) CHECK(row.worst_change_percent == 0);
}

TEST_CASE("a site without devices, a taker that has enough, runs that are not there") {
  WhatIf runs{.sites = {{.file = "", .site = fixture::two_rooms()}}};
  runs.sites[0].site.devices.clear();
  const auto rows = rows_of(runs);
  REQUIRE(rows.size() == 1);
  CHECK(rows[0].worst_device.empty());
  runs.draws = RandomDraws{100'000, 1};
  std::uint64_t taken = 0;
  for (const int threads : {1, 3}) {
    taken = 0;
    what_if(runs, {.threads = threads}, {},
            [&](WhatIfBlock block) { return (taken += block.rows.size()) < 9'000; });
    CHECK(taken >= 9'000);
    CHECK(taken < 30'000);
  }
  CHECK_THROWS_AS(rows_of(runs, {.first_run = 0}), DomainError);
  CHECK_THROWS_AS(rows_of(runs, {.first_run = 200'000}), DomainError);
  CHECK_THROWS_AS(rows_of({}), DomainError);
}

TEST_CASE("values that do not go together are found before anything runs") {
  Site site = fixture::two_rooms();
  WhatIf runs{.sites = {{.file = "lane.yaml", .site = site, .cases = {{"same", {}}}}}};
  runs.sweep = {axis("/storeys/ground/height_m", {2.5, 4.0}), axis("/hubs/hub/height_m", {2.0, 3.5})};
  const auto faults = impossible_variants(runs, 1000);
  REQUIRE(faults.size() == 2);
  CHECK(faults[0].find("lane.yaml, /storeys/ground/height_m 0, /hubs/hub/height_m 1: ") == 0);
  CHECK(faults[1].find("lane.yaml, case 'same', ") == 0);
  CHECK(impossible_variants(runs, 1).empty());
}

TEST_CASE("a combination that cannot be is named") {
  WhatIf runs{.sites = {{.file = "lane.yaml", .site = fixture::two_rooms()}}};
  runs.sweep = {axis("/hubs/hub/height_m", {1.0, 1000.0})};
  try {
    rows_of(runs);
    FAIL("a hub 1000 m up was taken");
  } catch (const DomainError& fault) {
    CHECK(std::string(fault.what()).find("lane.yaml, /hubs/hub/height_m 1: ") == 0);
  }
}

TEST_CASE("a case that changes no figure is told from one that changes some") {
  Site site = fixture::two_rooms();
  site.storeys[0].boundaries = {{"left", kOutside, {"heavy", {}}}, {"left", "right", {"board", {}}}};
  WhatIf runs{
      .sites = {
          {.file = "",
           .site = site,
           .cases = {{"the same", {{"/storeys/ground/boundaries/left and outside/material", "heavy"}}},
                     {"off the way", {{"/storeys/ground/boundaries/0/material", "leaf"}}},
                     {"on the way", {{"/storeys/ground/boundaries/right and left/material", "steel"}}}}}}};
  runs.sites[0].site.radio.diffraction = false;
  const auto changes = what_if_changes(runs, 0, {});
  REQUIRE(changes.size() == 4);
  CHECK(changes[0].same_figures);
  CHECK(changes[1].same_figures);
  CHECK(changes[2].same_figures);
  CHECK_FALSE(changes[3].same_figures);
}
