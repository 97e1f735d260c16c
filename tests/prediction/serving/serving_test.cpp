#include "linkmargin/prediction/serving/serving.hpp"

#include "linkmargin/prediction/link_table.hpp"

#include "fixtures/site_fixture.hpp"
#include "fixtures/warnings.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

using namespace linkmargin;

namespace {

/// Four rooms in a row with brick between; the hub in the first, repeaters in the others.
Site row(int repeaters, double far_m) {
  Site site = fixture::two_rooms();
  Storey storey = fixture::storey("ground", 0, 2.5);
  for (int i = 0; i < 4; ++i)
    storey.rooms.push_back({"room " + std::to_string(i), rectangle({far_m * i, 0}, far_m, 4)});
  site.storeys = {storey};
  site.hubs.front().place = {0, {1, 2}, 2};
  site.hubs.front().capacity.reset();
  const Device pattern = site.devices.front();
  site.profiles["repeater"] = site.profiles.at("hub");
  site.profiles["repeater"].name = "repeater";
  site.devices.clear();
  for (int i = 0; i < 4; ++i) {
    Device device = pattern;
    device.name = "device " + std::to_string(i);
    device.place = {0, {far_m * i + 2.5, 1}, 1};
    device.hub.reset();
    site.devices.push_back(device);
  }
  for (int i = 1; i <= repeaters; ++i)
    site.repeaters.push_back(
        {.name = "relay " + std::to_string(i), .profile = "repeater", .place = {0, {far_m * i + 1, 2}, 2}});
  return site;
}

const Link& link_of(const LinkTable& table, const std::string& device) {
  return *std::ranges::find(table.links, device, &Link::device);
}

}  // namespace

TEST_CASE("a repeater serves where that gives a greater chance, and nowhere else") {
  for (const double far_m : {6.0, 12.0, 25.0, 60.0}) {
    const Site site = row(1, far_m);
    const LinkTable with = link_table(site);
    const LinkTable without = link_table(site, {.direct = true});
    for (const Link& link : with.links) {
      CAPTURE(far_m);
      CAPTURE(link.device);
      const Link& direct = link_of(without, link.device);
      CHECK(direct.via.empty());
      CHECK(link.pass_probability >= direct.pass_probability - 5e-4);
      if (link.via.empty()) {
        CHECK(link.pass_probability == direct.pass_probability);
      } else {
        CHECK(link.pass_probability > direct.pass_probability);
        CHECK(link.via == std::vector<std::string>{"relay 1"});
        CHECK(link.hub == site.hubs.front().name);
        CHECK(link.heard_by() == "relay 1");
        REQUIRE(link.onward);
        CHECK(link.onward->device == "relay 1");
        CHECK(link.pass_probability <= link.own_probability);
        CHECK(link.pass_probability <= link.onward->pass_probability + 1e-9);
      }
    }
  }
}

TEST_CASE("what is enrolled by name goes as it says") {
  Site site = row(1, 12);
  site.devices[0].via = "relay 1";
  site.devices[3].via = kDirect;
  const LinkTable table = link_table(site);
  CHECK(table.links[0].via == std::vector<std::string>{"relay 1"});
  CHECK(table.links[3].via.empty());
}

TEST_CASE("a chain of repeaters is as long as the system allows") {
  Site site = row(3, 60);
  for (const int hops : {1, 2, 3}) {
    site.hops = hops;
    const LinkTable table = link_table(site);
    std::size_t longest = 0;
    for (const Link& link : table.links) longest = std::max(longest, link.via.size());
    CHECK(longest <= static_cast<std::size_t>(hops));
    for (const Link& link : table.repeaters) CHECK(link.via.size() < static_cast<std::size_t>(hops));
    if (hops == 3) CHECK(longest > 1);
  }
  site.hops = 0;
  for (const Link& link : link_table(site).links) CHECK(link.via.empty());
}

TEST_CASE("a hop that is too weak makes the way weak, whatever the device reads") {
  Site site = row(1, 12);
  site.profiles["repeater"].transmit->value = Dbm{-30};
  site.repeaters.front().place = {0, {2000, 2}, 2};
  site.devices[1].place = {0, {2001, 2}, 1};
  site.devices[1].via = "relay 1";
  const LinkTable table = link_table(site);
  const Link& link = table.links[1];
  CHECK_FALSE(link.own_hop_weak);
  CHECK(link.weak);
  CHECK(link.outcome == Outcome::weak);
  CHECK(&link.weakest_hop() == link.onward.get());
  CHECK(fixture::has(table.warnings, WarningCode::repeater_unheard));
}

TEST_CASE("slots of hubs and repeaters are kept, and the order of the file changes nothing") {
  Site site = row(1, 40);
  site.repeaters.front().capacity = Capacity{.total = 1, .by_class = {}};
  const LinkTable table = link_table(site);
  const auto by_relay =
      std::ranges::count_if(table.links, [](const Link& link) { return !link.via.empty(); });
  CHECK(by_relay == 1);
  REQUIRE(table.repeater_loads.size() == 1);
  CHECK(table.repeater_loads.front().slots_used == 1);
  CHECK_FALSE(table.repeater_loads.front().over_capacity);
  CHECK(table.hubs.front().slots_used == 5);  // four devices and the repeater
  Site turned = site;
  std::ranges::reverse(turned.devices);
  const LinkTable other = link_table(turned);
  for (const Link& link : table.links) CHECK(link_of(other, link.device).via == link.via);
  // Who would lose most by the other way has the slot.
  Site roomy = site;
  roomy.repeaters.front().capacity.reset();
  const LinkTable unbounded = link_table(roomy);
  const LinkTable direct = link_table(site, {.direct = true});
  double most = 0;
  std::string whose;
  for (const Link& link : unbounded.links) {
    const double gain = link.pass_probability - link_of(direct, link.device).pass_probability;
    if (gain > most) {
      most = gain;
      whose = link.device;
    }
  }
  CHECK_FALSE(link_of(table, whose).via.empty());
}

TEST_CASE(
    "of devices that would lose the same the first by name has the slot, whatever the order of the file") {
  Site site = row(1, 40);
  site.repeaters.front().capacity = Capacity{.total = 1, .by_class = {}};
  for (Device& device : site.devices) device.place = site.devices[3].place;
  for (int turn = 0; turn < 4; ++turn) {
    std::rotate(site.devices.begin(), site.devices.begin() + 1, site.devices.end());
    const LinkTable table = link_table(site);
    REQUIRE(table.repeater_loads.front().slots_used == 1);
    CHECK_FALSE(link_of(table, "device 0").via.empty());
  }
}

TEST_CASE("devices that are enrolled by name beyond the slots are told, not moved") {
  Site site = row(1, 12);
  site.repeaters.front().capacity = Capacity{.total = 1, .by_class = {}};
  site.devices[2].via = "relay 1";
  site.devices[3].via = "relay 1";
  const LinkTable table = link_table(site);
  CHECK(table.links[2].via.size() == 1);
  CHECK(table.links[3].via.size() == 1);
  CHECK(table.repeater_loads.front().over_capacity);
}

TEST_CASE("where the hub has no slot left, a repeater that is full is filled no further") {
  Site site = row(1, 40);
  site.hubs.front().capacity = Capacity{.total = 1, .by_class = {}};
  site.repeaters.front().capacity = Capacity{.total = 1, .by_class = {}};
  const LinkTable table = link_table(site);
  CHECK(table.hubs.front().over_capacity);
  CHECK(table.repeater_loads.front().slots_used == 1);
}

TEST_CASE("what was read decides, and what is expected leaves it out") {
  Site site = row(0, 6);
  const LinkTable unread = link_table(site);
  REQUIRE(unread.links[0].outcome == Outcome::good);
  const auto outcome_of = [&](std::vector<Reading> readings) {
    LinkTableOptions options;
    options.readings = std::move(readings);
    const LinkTable table = link_table(site, options);
    CHECK(table.links[0].weaker().reading_percent == unread.links[0].weaker().reading_percent);
    return table.links[0].outcome;
  };
  CHECK(outcome_of({fixture::read_of("device 0", 22)}) == Outcome::weak);
  CHECK(outcome_of({fixture::read_of("device 0", 55)}) == Outcome::good);
  CHECK(outcome_of({fixture::read_of("device 0", 0), fixture::read_of("device 0", 44)}) == Outcome::doubtful);
  CHECK(outcome_of({fixture::read_of("device 0", 44), fixture::read_of("device 0", 0)}) == Outcome::weak);
  CHECK(outcome_of({fixture::read_of("device 0", 44), fixture::read_of("device 0", 60)}) == Outcome::good);
}
