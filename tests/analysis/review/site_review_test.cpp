#include "linkmargin/analysis/review/site_review.hpp"

#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace linkmargin;

namespace {

/// Two rooms with a door that opens between them.
Site with_door() {
  Site site = fixture::two_rooms();
  site.storeys[0].openings = {fixture::door_between(2, 0.9, "steel")};
  return site;
}

constexpr double kStepM = 0.5;

}  // namespace

TEST_CASE("both states of the doors are reviewed, as asked for first, where a leaf opens") {
  const Site site = with_door();
  const SiteReview review = site_review(site, {.doors = Doors::open, .step_m = kStepM});
  REQUIRE(review.states.size() == 2);
  CHECK(review.states[0].table.doors == Doors::open);
  CHECK(review.states[1].table.doors == Doors::armed);
  for (const DoorsReview& state : review.states) {
    const LinkTable table = link_table(site, {.doors = state.table.doors});
    REQUIRE(state.table.links.size() == 1);
    CHECK(state.table.links[0].pass_probability == table.links[0].pass_probability);
    REQUIRE(state.maps.size() == 1);
    CHECK(state.maps[0].doors == state.table.doors);
    CHECK(state.maps[0].step_m == kStepM);
    CHECK_NOTHROW(value_at(state.maps[0], 0, CoverageValue::chance));
  }
  CHECK(review.states[0].table.links[0].loss.path_loss_db <
        review.states[1].table.links[0].loss.path_loss_db);
  Site fixed = site;
  fixed.storeys[0].openings[0].opens = false;
  CHECK(site_review(fixed, {.step_m = kStepM}).states.size() == 1);
}

TEST_CASE("a case without edits is the site as it is, which is told once") {
  const Site site = with_door();
  ReviewOptions options{.step_m = kStepM};
  options.cases = {{"as it is", {}}, {"nearer", {{"/devices/contact/at_m", Point2{5, 2}}}}};
  const SiteReview review = site_review(site, options);
  REQUIRE(review.cases.size() == 1);
  CHECK(review.cases[0].name == "nearer");
}

TEST_CASE("cases and the site before are tables of their own") {
  const Site site = with_door();
  ReviewOptions options{.step_m = kStepM};
  options.cases = {{"nearer", {{"/devices/contact/at_m", Point2{5, 2}}}}};
  Site before = site;
  before.devices[0].place.at = {7.5, 3.5};
  options.before = before;
  const SiteReview review = site_review(site, options);
  REQUIRE(review.cases.size() == 1);
  CHECK(review.cases[0].name == "nearer");
  CHECK(review.cases[0].table.links[0].loss.distance_m == doctest::Approx(4));
  REQUIRE(review.before.has_value());
  CHECK(review.before->links[0].loss.distance_m > review.states[0].table.links[0].loss.distance_m);
  options.cases = {{"nowhere", {{"/devices/kontakt/at_m", Point2{5, 2}}}}};
  CHECK_THROWS_WITH_AS(site_review(site, options), doctest::Contains("case 'nowhere'"), DomainError);
}

TEST_CASE("cases and the site before are compared with the site as it is planned, without readings") {
  const Site site = with_door();
  ReviewOptions options{.readings = {fixture::read_of("contact", 30)}, .step_m = kStepM};
  const SiteReview read = site_review(site, options);
  const LinkTable planned = link_table(site);
  CHECK(read.as_planned.links[0].uplink.level == planned.links[0].uplink.level);
  // Its own reading decides what a device comes to, and moves no prediction of it.
  CHECK(read.states[0].table.links[0].uplink.level == planned.links[0].uplink.level);
  CHECK(read.states[0].table.links[0].outcome != planned.links[0].outcome);
  CHECK(read.present.of_device.at("contact").percent == 30);
  CHECK(site_review(site, {.step_m = kStepM}).as_planned.links[0].uplink.level ==
        planned.links[0].uplink.level);
}

TEST_CASE("empty storeys have no map, and progress rises to the whole") {
  Site site = with_door();
  site.storeys.push_back(fixture::storey("void", 3, 2.5));
  std::vector<double> shares;
  const SiteReview review = site_review(
      site, {.step_m = kStepM, .threads = 2, .progress = [&](double share) { shares.push_back(share); }});
  CHECK(review.states[0].maps.size() == 1);
  REQUIRE(shares.size() >= 4);
  CHECK(std::ranges::is_sorted(shares));
  CHECK(shares.back() == doctest::Approx(1));
}

TEST_CASE("cells of maps are by the storey's size") {
  CHECK(review_step_m({{0, 0}, {10, 5}}) == doctest::Approx(0.05));
  CHECK(review_step_m({{0, 0}, {10, 44}}) == doctest::Approx(0.2));
  CHECK(review_step_m({{0, 0}, {1e5, 1}}) == doctest::Approx(10));
  CHECK(review_step_m(Box2::nothing()) == doctest::Approx(0.05));
}
