#include "linkmargin/analysis/link_table.hpp"

#include "site_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace linkmargin;

TEST_CASE("one device, one hub, figure by figure") {
  const LinkTable table = link_table(fixture::two_rooms());
  REQUIRE(table.links.size() == 1);
  const Link& link = table.links[0];
  const double path_db = 31.2212 + 20 * std::log10(6.0) + 3;
  CHECK(std::abs(link.loss.path_loss_db - path_db) <= 0.0001);
  CHECK(std::abs(link.uplink.level.value - (10 + 2.15 - path_db + 0)) <= 0.0001);
  REQUIRE(link.downlink);
  CHECK(std::abs(link.downlink->level.value - (14 + 2.15 - path_db - 3)) <= 0.0001);
  // Up 105 dB of range from 12.15 dBm, down 104 from 13.15: the two margins are equal, and up counts.
  CHECK(std::abs(link.uplink.margin.value - link.downlink->margin.value) <= 1e-9);
  CHECK_FALSE(link.weak);
  CHECK(table.weak_devices.empty());
  CHECK(link.pass_probability > 0.99);
}

TEST_CASE("the weaker direction counts") {
  Site site = fixture::two_rooms();
  site.profiles.at("contact").sensitivity = Dbm{-90};
  const LinkTable table = link_table(site);
  CHECK(table.links[0].weaker_is_downlink);
  CHECK(table.links[0].weaker().level == table.links[0].downlink->level);
}

TEST_CASE("the best hub serves unless one is named, and all pairs lists the others too") {
  Site site = fixture::two_rooms();
  site.hubs.push_back(site.hubs[0]);
  site.hubs[1].name = "near hub";
  site.hubs[1].place.at = {6, 2};
  CHECK(link_table(site).links[0].hub == "near hub");
  LinkTableOptions all;
  all.all_pairs = true;
  const LinkTable pairs = link_table(site, all);
  REQUIRE(pairs.links.size() == 2);
  CHECK(pairs.links[0].hub == "hub");
  CHECK_FALSE(pairs.links[0].serving);
  CHECK(pairs.links[1].serving);
  site.devices[0].hub = "hub";
  CHECK(link_table(site).links[0].hub == "hub");
  CHECK(link_table(site, all).links[0].serving);
  CHECK(link_table(site).hubs[0].slots_used == 1);
  CHECK(link_table(site).hubs[1].slots_used == 0);
}

TEST_CASE("items run from the device to the hub, whichever lies first") {
  Site site = fixture::two_rooms();
  site.storeys[0].rooms.push_back({"far", rectangle({8, 0}, 4, 4)});
  site.devices[0].place.at = {11, 2};
  const auto names = [](const Link& link) {
    return std::pair(link.loss.items[1].name, link.loss.items[2].name);
  };
  CHECK(names(link_table(site).links[0]) ==
        std::pair<std::string, std::string>("wall between right and far", "wall between left and right"));
  std::swap(site.devices[0].place, site.hubs[0].place);
  CHECK(names(link_table(site).links[0]) ==
        std::pair<std::string, std::string>("wall between left and right", "wall between right and far"));
}

TEST_CASE("full hubs, hopeless links and walls in a row are cautioned") {
  Site site = fixture::two_rooms();
  site.hubs[0].capacity = Capacity{.total = 0, .by_class = {}};
  site.devices[0].place.at = {1999, 2};
  site.devices[0].mount_loss_db = 30;
  const LinkTable table = link_table(site);
  const auto said = [&](const std::string& part) {
    return std::any_of(table.cautions.begin(), table.cautions.end(),
                       [&](const std::string& caution) { return caution.find(part) != std::string::npos; });
  };
  CHECK(table.hubs[0].over_capacity);
  CHECK(said("more places are used"));
  CHECK(said("dB under the receiver's sensitivity"));
  CHECK(table.weak_devices == std::vector<std::string>{"contact"});
}

TEST_CASE("the same result for any number of threads") {
  Site site = fixture::random_block(3, 2, 5, 4);
  const RandomStream random(5, 1);
  site.devices.clear();
  for (std::uint64_t i = 0; i < 60; ++i) {
    Device device = fixture::two_rooms().devices[0];
    device.name = "device " + std::to_string(i);
    device.place.at = snapped({15 * random.uniform(3 * i), 16 * random.uniform(3 * i + 1)});
    device.place.storey = i % 2;
    site.devices.push_back(device);
  }
  LinkTableOptions one, four;
  four.threads = 4;
  const LinkTable a = link_table(site, one);
  const LinkTable b = link_table(site, four);
  REQUIRE(a.links.size() == 60);
  for (std::size_t i = 0; i < a.links.size(); ++i) {
    CHECK(a.links[i].device == b.links[i].device);
    CHECK(a.links[i].loss.path_loss_db == b.links[i].loss.path_loss_db);
    CHECK(a.links[i].pass_probability == b.links[i].pass_probability);
  }
}
