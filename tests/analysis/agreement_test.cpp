#include "linkmargin/analysis/coverage/coverage.hpp"
#include "linkmargin/analysis/placement/model/placement.hpp"
#include "linkmargin/analysis/relocation/relocation.hpp"
#include "linkmargin/analysis/review/site_review.hpp"
#include "linkmargin/analysis/what_if/what_if_setting.hpp"
#include "linkmargin/prediction/fitted_shadowing.hpp"
#include "linkmargin/prediction/link_table.hpp"

#include "fixtures/near.hpp"
#include "fixtures/served_block.hpp"
#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

using namespace linkmargin;

/// One device in one state is told alike by everything that tells of it.
namespace {

constexpr std::uint64_t kSites = 100;
constexpr double kFloat = 2e-4;  // maps and searches keep single precision

}  // namespace

TEST_CASE("check, what-if, relocate, place and report say the same of a device") {
  std::size_t by_repeater = 0;
  for (std::uint64_t number = 1; number <= kSites; ++number) {
    CAPTURE(number);
    const Site site = fixture::served_block(number);
    const Doors doors = number % 4 < 2 ? Doors::armed : Doors::open;
    const LinkTable table = link_table(site, {.doors = doors});
    // What-if.
    const WhatIfSetting setting(site, link_table(site, {.doors = doors, .detail = TableDetail::chances}), {});
    std::vector<WhatIfDevice> devices(table.links.size());
    CHECK(setting.predicted(devices).weak_count == table.weak_devices.size());
    for (std::size_t i = 0; i < devices.size(); ++i) {
      CHECK(near(devices[i].reading_percent, table.links[i].weaker().reading_percent));
      CHECK(devices[i].weak == (table.links[i].outcome == Outcome::weak));
      CHECK(near(setting.table().links[i].pass_probability, table.links[i].pass_probability));
      CHECK(setting.table().links[i].via == table.links[i].via);
      by_repeater += table.links[i].via.empty() ? 0 : 1;
    }
    // Relocate: before anything is tried.
    for (const DeviceRelocation& of : relocation(site, {.doors = doors}).devices) {
      const auto link = std::ranges::find(table.links, of.link.device, &Link::device);
      REQUIRE(link != table.links.end());
      CHECK(of.link.outcome == link->outcome);
      CHECK(near(of.link.pass_probability, link->pass_probability));
      CHECK(near(of.expected.pass_probability, link->pass_probability));
      CHECK(near(of.expected.percent, link->weaker().reading_percent));
      CHECK(of.link.via == link->via);
    }
    // Report.
    if (number % 10 == 0) {
      const SiteReview review = site_review(site, {.doors = doors, .step_m = 2});
      for (std::size_t i = 0; i < table.links.size(); ++i) {
        CHECK(review.states.front().table.links[i].outcome == table.links[i].outcome);
        CHECK(near(review.states.front().table.links[i].pass_probability, table.links[i].pass_probability));
      }
    }
  }
  CHECK(by_repeater > 20);
}

TEST_CASE("a cell of the map says what check says of a device there") {
  std::size_t by_repeater = 0;
  for (std::uint64_t number = 1; number <= kSites; number += 3) {
    CAPTURE(number);
    Site site = fixture::served_block(number);
    for (Repeater& repeater : site.repeaters) repeater.capacity.reset();  // a map keeps no slots
    const LinkTable table = link_table(site);
    CoverageOptions options;
    options.profile = site.devices.front().profile;
    options.height_m = 1.5;
    options.step_m = fixture::kCellM;
    const CoverageMap map = coverage(site, options);
    for (std::size_t i = 0; i < table.links.size(); ++i) {
      const Link& link = table.links[i];
      const Point2 at = site.devices[i].place.at;
      const auto column = std::floor((at.x - map.origin.x) / map.step_m);
      const auto row = std::floor((at.y - map.origin.y) / map.step_m);
      const auto cell = static_cast<std::size_t>(row) * static_cast<std::size_t>(map.columns) +
                        static_cast<std::size_t>(column);
      if (distance(map.centre(cell), at) > 1e-3) continue;  // the sheet of this site begins elsewhere
      CAPTURE(link.device);
      CHECK(map.hub(cell).name == link.heard_by());
      CHECK(near(value_at(map, cell, CoverageValue::reading), link.weaker().reading_percent, 0.01));
      CHECK(near(value_at(map, cell, CoverageValue::chance), link.pass_probability, kFloat));
      CHECK(weak_at(map, cell) == link.weak);
      by_repeater += link.via.empty() ? 0 : 1;
    }
  }
  CHECK(by_repeater > 3);
}

TEST_CASE("what place says of things as they are is what check says; what it proposes, check confirms") {
  std::size_t by_repeater = 0;
  for (std::uint64_t number = 1; number <= kSites; number += 3) {
    CAPTURE(number);
    Site site = fixture::served_block(number);
    for (Hub& hub : site.hubs) hub.may_move.reset();
    const PlacementAnswer answer = placement(site, {.step_m = 2, .doors = {Doors::armed}, .best_only = true});
    REQUIRE(answer.present);
    const LinkTable table = link_table(site);
    for (std::size_t i = 0; i < table.links.size(); ++i) {
      CHECK(near(answer.present->services[i].chance, table.links[i].pass_probability, 1e-9));
      CHECK(answer.present->services[i].weak == table.links[i].weak);
      CHECK(answer.present->services[i].via == table.links[i].via);
    }
    REQUIRE_FALSE(answer.choices.empty());
    const PlacementChoice& best = answer.choices.front();
    const auto applied = edited_site(site, best.edits);
    REQUIRE(applied);
    if (best.parts.size() < site.hubs.size() + site.repeaters.size())
      continue;  // one is left out: it stays in the file
    const LinkTable after = link_table(*applied);
    for (std::size_t i = 0; i < after.links.size(); ++i) {
      CAPTURE(after.links[i].device);
      CHECK(near(best.services[i].chance, after.links[i].pass_probability, 1e-9));
      CHECK(best.services[i].weak == after.links[i].weak);
      CHECK(best.services[i].via == after.links[i].via);
      by_repeater += after.links[i].via.empty() ? 0 : 1;
    }
  }
  CHECK(by_repeater > 3);
}

TEST_CASE("with readings all say the same too, and a device's own reading moves no prediction of it") {
  for (std::uint64_t number = 1; number <= kSites; number += 5) {
    CAPTURE(number);
    const Site site = fixture::served_block(number);
    const std::vector<Reading> readings{fixture::read_of("device 0", 12), fixture::read_of("device 2", 88),
                                        fixture::read_of("device 2", 3)};
    LinkTableOptions options;
    options.readings = readings;
    options.nearby = fitted_shadowing(site, readings, Doors::armed);
    const LinkTable table = link_table(site, options);
    CHECK(table.links[2].read_percent == 3);
    CHECK(table.links[2].earlier_percent == std::vector<double>{88});
    RelocationOptions wanted;
    wanted.readings = readings;
    for (const DeviceRelocation& of : relocation(site, wanted).devices) {
      const auto link = std::ranges::find(table.links, of.link.device, &Link::device);
      REQUIRE(link != table.links.end());
      CHECK(of.link.outcome == link->outcome);
      CHECK(near(of.link.pass_probability, link->pass_probability));
      CHECK(near(of.link.weaker().reading_percent, link->weaker().reading_percent));
    }
    // Less its own rows: what would be expected had it not been read.
    std::vector<Reading> others{readings[1], readings[2]};
    LinkTableOptions without;
    without.nearby = fitted_shadowing(site, others, Doors::armed);
    const Link& unread = link_table(site, without).links[0];
    CHECK(near(unread.weaker().reading_percent, table.links[0].weaker().reading_percent, 1e-6));
  }
}
