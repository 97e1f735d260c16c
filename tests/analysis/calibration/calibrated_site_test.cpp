#include "linkmargin/analysis/coverage/coverage.hpp"
#include "linkmargin/analysis/relocation/relocation.hpp"
#include "linkmargin/analysis/survey/reading_verdict.hpp"
#include "linkmargin/prediction/link_table.hpp"

#include "fixtures/near.hpp"
#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace linkmargin;

/// What readings taught a site, in everything that is said of it.
namespace {

/// A block with doors, an area, two hubs and a repeater.
Site block(std::uint64_t seed, bool diffraction) {
  Site site = fixture::random_block(seed, 1, 3, 2);
  site.radio.diffraction = diffraction;
  site.reading = {.zero = Dbm{-95}, .full = Dbm{-35}, .weak_below_percent = 60};
  site.profiles.at("contact").sensitivity = Dbm{-91};  // else both directions are as good
  site.profiles.at("hub").sensitivity = Dbm{-94};
  Hub second = site.hubs.front();
  second.name = "second";
  second.place.at = {7.5, 6};
  site.hubs.push_back(second);
  site.repeaters = {{.name = "landing", .profile = "hub", .place = {0, {4.5, 5}, 1.5}}};
  Area area;
  area.name = "corner";
  area.profile = "fob";
  area.corners = rectangle({0.5, 4.5}, 2, 2);
  site.areas = {area};
  return site;
}

Calibration unsure() {
  Calibration learned;
  learned.offset_sigma_db = 1.5;
  learned.exponent_sigma = 0.2;
  learned.zero_sigma_db = 2;
  learned.full_sigma_db = 2.5;
  learned.materials = {{"board", {1, 0.8, 0}}, {"heavy", {-2, 1.2, 0}}, {"leaf", {0.5, 0.7, 0}}};
  learned.correlations = {{kOffsetPointer, kExponentPointer, -0.62},
                          {shift_pointer("board"), kOffsetPointer, -0.3}};
  return learned;
}

/// The same receivers and scale, all of them so much more sensitive.
Site more_sensitive(Site site, double by_db) {
  site.reading.zero = site.reading.zero - Db{by_db};
  site.reading.full = site.reading.full - Db{by_db};
  for (auto& [name, profile] : site.profiles) {
    if (auto* stated = std::get_if<Dbm>(&profile.sensitivity)) *stated = *stated - Db{by_db};
  }
  return site;
}

Site with_offset(Site site, double offset_db) {
  site.calibration = Calibration{};
  site.calibration->offset_db = offset_db;
  return site;
}

}  // namespace

TEST_CASE("an offset is worth as much as receivers that hear so much less: check") {
  for (const bool diffraction : {true, false}) {
    const LinkTable offset = link_table(with_offset(block(3, diffraction), -6), {.all_pairs = true});
    const LinkTable deafer = link_table(more_sensitive(block(3, diffraction), -6), {.all_pairs = true});
    const LinkTable plain = link_table(block(3, diffraction), {.all_pairs = true});
    REQUIRE(offset.links.size() == deafer.links.size());
    for (std::size_t i = 0; i < offset.links.size(); ++i) {
      const Link &with = offset.links[i], &other = deafer.links[i], &without = plain.links[i];
      CHECK(with.loss.path_loss_db == without.loss.path_loss_db);
      CHECK(near(with.uplink.level.value, without.uplink.level.value - 6));
      CHECK(near(with.downlink->level.value, without.downlink->level.value - 6));
      CHECK(near(with.weaker().margin.value, other.weaker().margin.value));
      CHECK(near(with.weaker().reading_percent, other.weaker().reading_percent));
      CHECK(near(with.pass_probability, other.pass_probability));
      CHECK(near(with.low_percent, other.low_percent, 1e-6));
      CHECK(with.weak == other.weak);
      for (const LinkBudget& way : {with.uplink, *with.downlink}) {
        const auto item = std::ranges::find(way.items, BudgetTerm::learned, &BudgetItem::term);
        REQUIRE(item != way.items.end());
        CHECK(item->value_db == -6);
      }
    }
    REQUIRE(offset.areas.size() == 1);
    CHECK(near(offset.areas[0].share_percent, deafer.areas[0].share_percent));
    CHECK(offset.areas[0].share_percent < plain.areas[0].share_percent);
  }
}

TEST_CASE("an offset is worth as much as receivers that hear so much less: maps") {
  for (const bool diffraction : {true, false}) {
    for (const bool chances : {true, false}) {
      const CoverageOptions options{.step_m = 0.5, .chances = chances};
      const CoverageMap offset = coverage(with_offset(block(5, diffraction), -4), options);
      const CoverageMap deafer = coverage(more_sensitive(block(5, diffraction), -4), options);
      double worst_percent = 0, worst_chance = 0;
      for (std::size_t cell = 0; cell < offset.size(); ++cell) {
        const auto apart = [&](CoverageValue value) {
          return std::abs(value_at(offset, cell, value) - value_at(deafer, cell, value));
        };
        worst_percent = std::max(worst_percent, apart(CoverageValue::reading));
        if (chances) worst_chance = std::max(worst_chance, apart(CoverageValue::chance));
      }
      CHECK(worst_percent <= 1e-9);
      CHECK(worst_chance <= 1e-9);
    }
  }
}

TEST_CASE("an offset is worth as much as receivers that hear so much less: relocation, by repeaters too") {
  Site site = block(7, true);
  site.reading.weak_below_percent = 80;
  site.profiles["repeater"] = site.profiles.at("hub");
  site.devices[0].may_move = Mobility{Mobility::Radius{1}};
  site.hubs[0].may_move = Mobility{Mobility::Radius{1}};
  const RelocationOptions options{.devices = {site.devices[0].name}, .chance = 0.95};
  const Relocation offset = relocation(with_offset(site, -8), options);
  const Relocation deafer = relocation(more_sensitive(site, -8), options);
  REQUIRE(offset.devices.size() == 1);
  const auto &with = offset.devices[0].remedies, &other = deafer.devices[0].remedies;
  REQUIRE(with.size() == other.size());
  int repeaters = 0;
  for (std::size_t i = 0; i < with.size(); ++i) {
    CHECK(with[i].kind == other[i].kind);
    repeaters += with[i].rung() == RemedyStage::repeater ? 1 : 0;
    if (with[i].expected)
      CHECK(near(with[i].expected->pass_probability, other[i].expected->pass_probability));
  }
  CHECK(repeaters > 0);
}

TEST_CASE("the spread of a link is its path's and the parameters', and every figure of it counts with it") {
  for (const bool diffraction : {true, false}) {
    Site site = block(9, diffraction);
    site.calibration = unsure();
    const ParameterSpread spread(site);
    const FadingModel fading_model(site.fading);
    for (const Link& link : link_table(site).links) {
      const double q = reading_percent(site.reading, link.weaker().level) / 100;
      const double expected = std::hypot(link.loss.sigma_db, std::sqrt(spread.variance_db2(link.loss, q)));
      CHECK(near(link.sigma_db, expected, 1e-12));
      CHECK(link.sigma_db > link.loss.sigma_db + 0.1);
      const Dbm needed = needed_level(site.reading, link.weaker());
      const double chance =
          fading_model.chance(link.weaker().level, needed, expected, fading_model.k_db(link.loss));
      CHECK(link.pass_probability <= chance + 1e-12);  // the other direction may have less
      const LevelInterval levels =
          fading_model.interval(link.weaker().level, kIntervalChance, expected, fading_model.k_db(link.loss));
      CHECK(near(link.high_percent, reading_percent(site.reading, levels.high), 1e-9));
      // A reading far off surprises less.
      Link sure = link;
      sure.sigma_db = link.loss.sigma_db;
      const auto rare = [&](const Link& of) {
        const double off = reading_percent(site.reading, link.weaker().level - Db{15});
        return reading_verdict(fading_model, site.reading, site.radio.frequency_hz, of, off, {})
            .as_low_probability;
      };
      CHECK(rare(link) > rare(sure));
    }
  }
}

TEST_CASE(
    "a cell of a calibrated map is what check says of a device there, also where shadows could be cast") {
  double worst_sigma_db = 0, worst_chance = 0, worst_level_db = 0;
  int compared = 0;
  for (std::uint64_t seed = 1; seed <= 8; ++seed) {
    Site site = block(seed, seed % 2 == 0);
    site.calibration = unsure();
    site.calibration->offset_db = 2.5;
    const CoverageMap map = coverage(site, {.step_m = 0.5, .threads = 2});
    const CoverageMap cast = coverage(site, {.step_m = 0.5, .chances = false, .threads = 2});
    const RandomStream random(seed, 2);
    for (std::uint64_t i = 0; i < 20; ++i) {
      const auto cell = static_cast<std::size_t>(random.uniform(i) * static_cast<double>(map.size()));
      Site there = site;
      there.devices.front().place.at = map.centre(cell);
      there.devices.front().place.height_m = map.height_m;
      const Link link = link_table(there).links.front();
      worst_sigma_db = std::max(worst_sigma_db, std::abs(map.sigma_db[cell] - link.sigma_db));
      worst_chance = std::max(worst_chance,
                              std::abs(value_at(map, cell, CoverageValue::chance) - link.pass_probability));
      for (const CoverageMap* of : {&map, &cast}) {
        worst_level_db = std::max(
            worst_level_db, std::abs(value_at(*of, cell, CoverageValue::level) - link.weaker().level.value));
      }
      ++compared;
    }
  }
  CHECK(compared == 160);
  CHECK(worst_sigma_db <= 1e-4);
  CHECK(worst_chance <= 1e-4);
  CHECK(worst_level_db <= 1e-4);
}

TEST_CASE("a calibration that says nothing changes no bit") {
  for (const bool diffraction : {true, false}) {
    const Site plain = block(4, diffraction);
    Site site = plain;
    site.calibration = Calibration{};
    const LinkTable with = link_table(site), without = link_table(plain);
    for (std::size_t i = 0; i < with.links.size(); ++i) {
      CHECK(with.links[i].loss.path_loss_db == without.links[i].loss.path_loss_db);
      CHECK(with.links[i].sigma_db == without.links[i].loss.sigma_db);
      CHECK(with.links[i].pass_probability == without.links[i].pass_probability);
      CHECK(with.links[i].uplink.items.size() == without.links[i].uplink.items.size());
    }
    CHECK(with.areas[0].share_percent == without.areas[0].share_percent);
  }
}

TEST_CASE("any number of threads gives the same calibrated bits") {
  Site site = block(6, true);
  site.calibration = unsure();
  const LinkTable one = link_table(site, {.threads = 1}), two = link_table(site, {.threads = 2});
  for (std::size_t i = 0; i < one.links.size(); ++i) {
    CHECK(one.links[i].sigma_db == two.links[i].sigma_db);
    CHECK(one.links[i].pass_probability == two.links[i].pass_probability);
  }
  CHECK(one.areas[0].share_percent == two.areas[0].share_percent);
  CHECK(coverage(site, {.step_m = 1, .threads = 1}).sigma_db ==
        coverage(site, {.step_m = 1, .threads = 2}).sigma_db);
}
