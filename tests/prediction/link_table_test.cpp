#include "linkmargin/prediction/link_table.hpp"

#include "linkmargin/prediction/link_warnings.hpp"

#include "fixtures/parts.hpp"
#include "fixtures/site_fixture.hpp"
#include "fixtures/warnings.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace linkmargin;

namespace {

/// The straight line alone, so that its figures can be worked out by hand.
Site two_rooms_without_echoes() {
  Site site = fixture::two_rooms();
  site.radio.reverberation = false;
  return site;
}

}  // namespace

TEST_CASE("one device, one hub, figure by figure") {
  const LinkTable table = link_table(two_rooms_without_echoes());
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

TEST_CASE("either direction may make a device weak, and the smaller chance is told") {
  // Path 31.2212 + 20 log10(6) + 3 = 49.784 dB, spread sqrt(4^2 + 1^2). Up -37.634, down -36.634 dBm.
  Site site = two_rooms_without_echoes();
  site.fading.on = false;
  site.reading = {.zero = Dbm{-77.634}, .full = Dbm{22.366}, .weak_below_percent = 40.5};  // 1 % a dB
  site.profiles.at("contact").sensitivity = Dbm{-40};  // down: a margin of 3.4 dB; up: 67 dB
  const Link link = link_table(site).links[0];
  CHECK(link.weaker_is_downlink);
  CHECK_FALSE(link.lower_is_downlink());
  CHECK(std::abs(link.weaker().reading_percent - 41) <= 0.001);
  CHECK(std::abs(link.lower().reading_percent - 40) <= 0.001);
  CHECK(link.weak);
  // Up lacks 0.5 dB of the threshold: Phi(-0.5 / sqrt(17)) = Phi(-0.12127) = 0.45174.
  CHECK(std::abs(link.pass_probability - 0.45174) <= 0.0001);
}

TEST_CASE("what the device does not hear reads 0 and is weak, though the level is over the threshold") {
  Site site = two_rooms_without_echoes();
  site.fading.on = false;
  site.profiles.at("contact").sensitivity = Dbm{-36};  // down -36.634 dBm: 0.634 dB under it
  const LinkTable table = link_table(site);
  const Link& link = table.links[0];
  CHECK(link.weaker_is_downlink);
  CHECK(link.downlink->reading_percent == 0);
  CHECK(link.uplink.reading_percent == 100);
  CHECK(link.weak);
  // Phi(-0.634 / sqrt(17)) = Phi(-0.15377) = 0.43890.
  CHECK(std::abs(link.pass_probability - 0.43890) <= 0.0001);
  CHECK(table.weak_devices.size() == 1);
  // Where no reading is too low to pass, what is not heard is weak all the same.
  site.reading.weak_below_percent = 0;
  CHECK(link_table(site).links[0].weak);
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
  Site site = two_rooms_without_echoes();
  site.storeys[0].rooms.push_back({"far", rectangle({8, 0}, 4, 4)});
  site.devices[0].place.at = {11, 2};
  const auto names = [](const Link& link) {
    return std::pair(link.loss.items[1].part, link.loss.items[2].part);
  };
  CHECK(names(link_table(site).links[0]) ==
        std::pair(fixture::wall_between("right", "far"), fixture::wall_between("left", "right")));
  std::swap(site.devices[0].place, site.hubs[0].place);
  CHECK(names(link_table(site).links[0]) ==
        std::pair(fixture::wall_between("left", "right"), fixture::wall_between("right", "far")));
}

TEST_CASE("full hubs are told by their load, hopeless links are cautioned") {
  Site site = fixture::two_rooms();
  site.hubs[0].capacity = Capacity{.total = 0, .by_class = {}};
  site.devices[0].place.at = {1999, 2};
  site.devices[0].mount_loss_db = 30;
  const LinkTable table = link_table(site);
  CHECK(table.hubs[0].over_capacity);
  const auto deaf = std::ranges::find(table.warnings, WarningCode::hub_hears_nothing, &Warning::code);
  REQUIRE(deaf != table.warnings.end());
  CHECK(deaf->of_device == "contact");
  CHECK(fixture::figure(*deaf, "under") == -table.links[0].uplink.margin.value);
  CHECK(table.weak_devices == std::vector<std::string>{"contact"});
}

TEST_CASE("a device beside its hub is cautioned, one a little further away is not") {
  Site site = fixture::two_rooms();
  site.devices[0].place = site.hubs[0].place;
  const auto said = [&] { return fixture::has(link_table(site).warnings, WarningCode::beside_the_hub); };
  site.devices[0].place.at.x += 0.25;
  CHECK(said());
  site.devices[0].place.at.x += 0.125;
  CHECK_FALSE(said());
}

TEST_CASE("a link's cautions leave out what concerns other links alone") {
  Site site = fixture::two_rooms();
  site.storeys[0].inner_wall = {"brick", 0.1};  // stated from 1000 MHz on
  Device other = site.devices[0];
  other.name = "other";
  other.place.at = {4, 2};  // on the wall's line
  site.devices.push_back(other);
  const LinkTable table = link_table(site);
  const auto bricks = [](const std::vector<Warning>& warnings) {
    const auto found = std::ranges::find(warnings, WarningCode::materials_out_of_band, &Warning::code);
    return found != warnings.end() && fixture::argument<std::vector<StatedBand>>(*found, "materials") ==
                                          std::vector<StatedBand>{{"brick", 1e9, 40e9}};
  };
  const auto of_other_alone = [](const Warning& warning) { return warning.radio == "other"; };
  CHECK(std::ranges::any_of(table.warnings, of_other_alone));
  CHECK(bricks(table.warnings));
  const auto of_first = link_warnings(site, table.links[0]);
  CHECK(std::ranges::none_of(of_first, of_other_alone));
  CHECK(bricks(of_first));  // it passes the brick
  const auto of_other = link_warnings(site, table.links[1]);
  CHECK(std::ranges::any_of(of_other, of_other_alone));
  CHECK_FALSE(bricks(of_other));  // on the hub's side of the wall
  for (const Warning& warning : of_first)
    CHECK(std::ranges::find(table.warnings, warning) != table.warnings.end());
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

TEST_CASE("of hubs with the same margin the first of the file serves, a device and an area") {
  Site site = fixture::two_rooms();
  Hub second = site.hubs[0];
  second.name = "a second";  // before the first by name, after it in the file
  site.hubs.push_back(second);
  Area drive;
  drive.name = "drive";
  drive.profile = "fob";
  drive.corners = rectangle({5, 1}, 2, 2);
  site.areas = {drive};
  const LinkTable table = link_table(site);
  CHECK(table.links.at(0).hub == "hub");
  CHECK(table.areas.at(0).hub == "hub");
  std::swap(site.hubs[0], site.hubs[1]);
  const LinkTable turned = link_table(site);
  CHECK(turned.links.at(0).hub == "a second");
  CHECK(turned.areas.at(0).hub == "a second");
}
