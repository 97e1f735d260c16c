#include "linkmargin/prediction/single_failures.hpp"

#include "linkmargin/prediction/link_table.hpp"

#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

using namespace linkmargin;

namespace {

using Names = std::vector<std::string>;

/// Two rooms, all within easy reach of either hub and of both repeaters; each device enrolled as its name
/// says.
Site enrolled() {
  Site site = fixture::two_rooms();
  site.hops = 2;
  const Hub hub = site.hubs.front();
  site.hubs = {hub, hub};
  site.hubs[1].name = "second hub";
  site.hubs[1].place = {0, {1, 3.5}, 1.5};
  site.repeaters = {{.name = "near relay", .profile = "hub", .place = {0, {3, 3}, 1.5}, .hub = "hub"},
                    {.name = "far relay", .profile = "hub", .place = {0, {6, 1}, 1.5}, .via = "near relay"}};
  const Device pattern = site.devices.front();
  site.devices.clear();
  const auto add = [&](const char* name, std::optional<std::string> at_hub, std::optional<std::string> via) {
    Device device = pattern;
    device.name = name;
    device.place = {0, {7, 1 + 0.5 * static_cast<double>(site.devices.size())}, 1.5};
    device.hub = std::move(at_hub);
    device.via = std::move(via);
    site.devices.push_back(device);
  };
  add("free", {}, {});
  add("at hub", "hub", kDirect);
  add("at second hub", "second hub", kDirect);
  add("at near relay", {}, "near relay");
  add("at far relay", {}, "far relay");
  Area area;
  area.name = "yard";
  area.profile = "fob";
  area.corners = rectangle({5, 1}, 2, 2);
  area.share_percent = 50;
  area.hub = "second hub";
  site.areas = {area};
  return site;
}

const SingleFailure& failure_of(const std::vector<SingleFailure>& all, const std::string& station) {
  const auto found = std::ranges::find(all, station, &SingleFailure::station);
  REQUIRE(found != all.end());
  return *found;
}

}  // namespace

TEST_CASE("with a station fails what is enrolled there by name, or farther on through it, and nothing else") {
  const Site site = enrolled();
  const LinkTable table = link_table(site);
  for (const Link& link : table.links) REQUIRE(link.outcome == Outcome::good);
  REQUIRE_FALSE(table.areas.front().weak);
  const std::vector<SingleFailure> failures = single_failures(site, {}, table);
  REQUIRE(failures.size() == 4);
  for (const SingleFailure& failure : failures) {
    CAPTURE(failure.station);
    CHECK(failure.doubtful.empty());
    CHECK_FALSE(failure.all_lost);
    CHECK(failure.repeater == failure.station.ends_with("relay"));
  }
  CHECK(failure_of(failures, "hub").lost == Names{"at hub", "at near relay", "at far relay"});
  CHECK(failure_of(failures, "hub").areas.empty());
  CHECK(failure_of(failures, "second hub").lost == Names{"at second hub"});
  CHECK(failure_of(failures, "second hub").areas == Names{"yard"});
  CHECK(failure_of(failures, "near relay").lost == Names{"at near relay", "at far relay"});
  CHECK(failure_of(failures, "far relay").lost == Names{"at far relay"});
  CHECK(failure_of(failures, "far relay").areas.empty());
}

TEST_CASE("with the only hub everything fails that was not weak before") {
  Site site = enrolled();
  site.hubs.pop_back();
  site.areas.front().hub.reset();
  std::erase_if(site.devices, [](const Device& device) { return device.hub == "second hub"; });
  site.devices.front().place = {0, {5000, 2}, 1.5};
  const LinkTable table = link_table(site);
  REQUIRE(table.weak_devices == Names{"free"});
  const std::vector<SingleFailure> failures = single_failures(site, {}, table);
  const SingleFailure& of_hub = failure_of(failures, "hub");
  CHECK(of_hub.all_lost);
  CHECK(of_hub.lost == Names{"at hub", "at near relay", "at far relay"});
  CHECK(of_hub.areas == Names{"yard"});
  CHECK_FALSE(failure_of(failures, "near relay").all_lost);
}

TEST_CASE("what a failed repeater served by choice goes by its best remaining way, with that outcome") {
  // A device beside a strong repeater, farther and farther from the hub.
  Names seen;
  for (double x = 20; x < 3000; x *= 1.1) {
    Site site = fixture::two_rooms();
    Profile strong = fixture::profile("strong", {TransmitPower::Kind::erp, Dbm{34}}, 0);
    strong.sensitivity = Dbm{-125};
    site.profiles["strong"] = strong;
    site.hubs.front().profile = "strong";
    site.repeaters = {{.name = "relay", .profile = "strong", .place = {0, {x - 3, 2}, 1.5}}};
    site.devices.front().place = {0, {x, 2}, 1.5};
    const LinkTable with = link_table(site);
    if (with.links.front().outcome != Outcome::good) continue;
    const SingleFailure failure = failure_of(single_failures(site, {}, with), "relay");
    site.repeaters.clear();
    const Outcome alone = link_table(site).links.front().outcome;
    CAPTURE(x);
    CHECK((failure.lost == Names{"contact"}) == (alone == Outcome::weak));
    CHECK((failure.doubtful == Names{"contact"}) == (alone == Outcome::doubtful));
    CHECK(failure.lost.size() + failure.doubtful.size() == (alone == Outcome::good ? 0 : 1));
    seen.push_back(alone == Outcome::weak ? "weak" : alone == Outcome::doubtful ? "doubtful" : "good");
  }
  for (const char* outcome : {"weak", "doubtful", "good"}) CHECK(std::ranges::count(seen, outcome) > 0);
}

TEST_CASE("readings were taken with all stations there: none decides what fails") {
  Site site = enrolled();
  LinkTableOptions options;
  options.readings = {fixture::read_of("free", 2)};
  const LinkTable table = link_table(site, options);
  REQUIRE(table.weak_devices == Names{"free"});
  for (const SingleFailure& failure : single_failures(site, options, table))
    CHECK(std::ranges::count(failure.lost, "free") == 0);
  // A reading that says good hides no loss.
  options.readings = {fixture::read_of("at far relay", 90)};
  const std::vector<SingleFailure> failures = single_failures(site, options, link_table(site, options));
  CHECK(failure_of(failures, "near relay").lost == Names{"at near relay", "at far relay"});
}
