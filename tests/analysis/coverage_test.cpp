#include "linkmargin/analysis/coverage.hpp"

#include "linkmargin/analysis/link_table.hpp"
#include "linkmargin/propagation/free_space.hpp"

#include "site_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace linkmargin;

namespace {

/// A block with a hub, its contact somewhere on the lowest storey.
Site block(std::uint64_t seed, bool routes) {
  Site site = fixture::random_block(seed, 2, 3, 2);
  site.radio.routes = routes;
  site.profiles.at("contact").sensitivity = Dbm{-103};  // else both directions are as good as each other
  return site;
}

/// What `check` says of the contact at a cell's centre.
Link link_at(Site site, const CoverageMap& map, std::size_t cell) {
  Device& contact = site.devices.front();
  contact.place.at = map.centre(cell);
  contact.place.height_m = map.height_m;
  if (map.hubs.size() == 1) contact.hub = map.hubs.front().name;
  return link_table(site, {}).links.front();
}

}  // namespace

TEST_CASE("a cell holds what check says of a device there, with routes and without") {
  double worst_db = 0;
  double worst_percent = 0;
  double worst_chance = 0;
  int compared = 0;
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    const Site site = block(seed, seed % 2 == 0);
    for (const bool chances : {true, false}) {
      const CoverageMap map = coverage(site, {.step_m = 0.5, .chances = chances, .threads = 2});
      const RandomStream random(seed, 2);
      for (std::uint64_t i = 0; i < 40; ++i) {
        const auto cell = static_cast<std::size_t>(random.uniform(i) * static_cast<double>(map.size()));
        const Link link = link_at(site, map, cell);
        const auto apart = [&](CoverageValue value, double there) {
          return std::abs(value_at(map, cell, value) - there);
        };
        worst_db = std::max({worst_db, apart(CoverageValue::loss, link.loss.path_loss_db),
                             apart(CoverageValue::level, link.weaker().level.value),
                             apart(CoverageValue::margin, link.weaker().margin.value)});
        worst_percent = std::max(worst_percent, apart(CoverageValue::reading, link.weaker().reading_percent));
        REQUIRE(weak_at(map, cell) == link.weak);
        if (chances)
          worst_chance = std::max(worst_chance, apart(CoverageValue::chance, link.pass_probability));
        ++compared;
      }
    }
  }
  CHECK(compared == 3200);
  CHECK(worst_db <= 1e-4);
  CHECK(worst_percent <= 1e-3);
  CHECK(worst_chance <= 1e-4);
}

TEST_CASE("of several hubs each cell has the one with the greatest margin") {
  Site site = block(50, true);
  Hub second = site.hubs.front();
  second.name = "second";
  second.place.at = {7.5, 6};
  site.hubs.push_back(second);
  const CoverageMap best = coverage(site, {.step_m = 0.5});
  const CoverageMap first = coverage(site, {.hub = "hub", .step_m = 0.5});
  const CoverageMap other = coverage(site, {.hub = "second", .step_m = 0.5});
  REQUIRE(best.hubs.size() == 2);
  REQUIRE(first.hub_of.empty());
  std::size_t of_second = 0;
  for (std::size_t cell = 0; cell < best.size(); ++cell) {
    const double margin =
        std::max(value_at(first, cell, CoverageValue::margin), value_at(other, cell, CoverageValue::margin));
    REQUIRE(value_at(best, cell, CoverageValue::margin) == margin);
    of_second += best.hub(cell).name == "second" ? 1 : 0;
  }
  CHECK(of_second > 0);
  CHECK(of_second < best.size());
  site.radio.routes = false;  // the same by shadows
  const CoverageMap plain = coverage(site, {.step_m = 0.5, .chances = false});
  const CoverageMap exact = coverage(site, {.step_m = 0.5, .chances = true});
  for (std::size_t cell = 0; cell < plain.size(); ++cell) {
    REQUIRE(std::abs(plain.path_loss_db[cell] - exact.path_loss_db[cell]) <= 1e-4);
  }
}

TEST_CASE("free space is free space, at a million cells and for any number of threads") {
  Site site = fixture::two_rooms();
  site.radio.model = PathLossModel::free_space;
  const CoverageMap map = coverage(site, {.height_m = 1, .step_m = 0.01, .chances = false, .threads = 3});
  REQUIRE(map.size() > 500'000);
  double worst = 0;
  for (std::size_t cell = 0; cell < map.size(); cell += 97) {
    const Point2 p = snapped(map.centre(cell));
    const double d = std::hypot(p.x - 1, p.y - 2, 0.5);
    worst =
        std::max(worst, std::abs(map.path_loss_db[cell] - free_space_loss_db(d, site.radio.frequency_hz)));
  }
  CHECK(worst <= 1e-4);
  CHECK(coverage(site, {.height_m = 1, .step_m = 0.01, .chances = false, .threads = 1}).path_loss_db ==
        map.path_loss_db);
}

TEST_CASE("what is not said is what most devices of the storey have") {
  Site site = fixture::two_rooms();
  Device low = site.devices.front();
  for (const char* name : {"one", "two"}) {
    low.name = name;
    low.place.height_m = 0.25;
    site.devices.push_back(low);
  }
  const CoverageMap map = coverage(site, {.step_m = 0.5});
  CHECK(map.storey == "ground");
  CHECK(map.profile == "contact");
  CHECK(map.height_m == 0.25);
  CHECK(map.origin == Point2{-1, -1});
  CHECK(map.columns == 20);
  CHECK(map.rows == 12);
  CHECK(map.centre(0) == Point2{-0.75, -0.75});
  CHECK(map.centre(21) == Point2{-0.25, -0.25});
}

TEST_CASE("a reading under the threshold is weak; the share counts rooms alone") {
  Site site = fixture::two_rooms();
  site.reading.weak_below_percent = 0;
  CHECK(weak_share_percent(coverage(site, {.step_m = 0.5}), site) == 0);
  site.reading = {.zero = Dbm{-50}, .full = Dbm{-10}, .weak_below_percent = 100};
  CHECK(weak_share_percent(coverage(site, {.step_m = 0.5}), site) == 100);
  site.reading = {.zero = Dbm{-50}, .full = Dbm{-10}, .weak_below_percent = 40};  // -34 dBm
  const CoverageMap map = coverage(site, {.step_m = 0.5});
  std::size_t weak = 0, inside = 0;
  for (std::size_t cell = 0; cell < map.size(); ++cell) {
    const Point2 p = map.centre(cell);
    if (p.x < 0 || p.x > 8 || p.y < 0 || p.y > 4) continue;
    ++inside;
    weak += weak_at(map, cell) ? 1 : 0;
  }
  CHECK(inside == 128);
  CHECK(weak > 0);
  CHECK(weak < inside);
  CHECK(std::abs(weak_share_percent(map, site) - 100.0 * static_cast<double>(weak) / 128) <= 1e-9);
}

TEST_CASE("what cannot be mapped is refused") {
  const Site site = fixture::two_rooms();
  CHECK_THROWS_AS(coverage(site, {.storey = "attic"}), DomainError);
  CHECK_THROWS_AS(coverage(site, {.hub = "hubb"}), DomainError);
  CHECK_THROWS_AS(coverage(site, {.profile = "siren"}), DomainError);
  CHECK_THROWS_AS(coverage(site, {.step_m = 0.001}), DomainError);
  CHECK_THROWS_AS(coverage(site, {.step_m = std::nan("")}), DomainError);
  CHECK_THROWS_AS(value_at(coverage(site, {.step_m = 1, .chances = false}), 0, CoverageValue::chance),
                  DomainError);
}
