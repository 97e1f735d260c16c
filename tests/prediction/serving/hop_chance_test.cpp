#include "linkmargin/prediction/serving/hop_chance.hpp"

#include "linkmargin/prediction/link_draws.hpp"
#include "linkmargin/prediction/link_table.hpp"

#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

using namespace linkmargin;

namespace {

/// A block with devices all over it, enrolled at a repeater.
Site block_by_repeater(std::uint64_t number) {
  Site site = fixture::random_block(number, 1, 3, 2);
  const RandomStream random(number, 78);
  const auto placed = [&](std::uint64_t i) {
    const Point3 at = fixture::random_point(random, i, 1, 3, 2);
    return Placement{0, {at.x, at.y}, at.z};
  };
  const Device pattern = site.devices.front();
  site.profiles["repeater"] = site.profiles.at("hub");
  site.profiles["repeater"].name = "repeater";
  site.repeaters = {{.name = "relay", .profile = "repeater", .place = placed(50)}};
  site.devices.clear();
  for (std::uint64_t i = 0; i < 4; ++i) {
    Device device = pattern;
    device.name = "device " + std::to_string(i);
    device.place = placed(i);
    device.via = "relay";
    site.devices.push_back(device);
  }
  return site;
}

/// With a threshold at which the repeater's own hop is neither sure nor hopeless.
Site at_doubtful_threshold(Site site, double under_percent = 2) {
  const double usual_percent = link_table(site).repeaters.front().lower().reading_percent;
  site.reading.weak_below_percent = std::clamp(usual_percent - under_percent, 1.0, 95.0);
  return site;
}

void check_against_draws(const Site& site, std::uint64_t seed) {
  constexpr std::uint64_t draws = 20'000;
  const LinkTable table = link_table(site);
  std::vector<Link> hops = table.links;
  hops.push_back(table.repeaters.front());
  const LinkDraws drawn(site, hops, seed);
  std::vector<double> shifts(drawn.size());
  std::vector<double> held(table.links.size());
  for (std::uint64_t draw = 1; draw <= draws; ++draw) {
    drawn.draw(draw, shifts);
    const auto holds = [&](std::size_t hop) {
      return shifts[hop] >= hops[hop].shortfall(site.reading).value;
    };
    for (std::size_t i = 0; i < held.size(); ++i) held[i] += holds(i) && holds(held.size()) ? 1 : 0;
  }
  for (std::size_t i = 0; i < held.size(); ++i) {
    const Link& link = table.links[i];
    CAPTURE(link.device);
    CAPTURE(link.onward_correlation);
    const double share = held[i] / static_cast<double>(draws);
    const double p = link.pass_probability;
    const double sampling = std::sqrt(std::max(p * (1 - p), 1e-4) / static_cast<double>(draws));
    CHECK(std::abs(p - share) < 4 * sampling + 1e-3);
  }
}

}  // namespace

TEST_CASE("the chance of a way is the share of draws in which every hop holds") {
  for (std::uint64_t number = 1; number <= 8; ++number) {
    CAPTURE(number);
    check_against_draws(at_doubtful_threshold(block_by_repeater(number)), number);
  }
}

TEST_CASE("there and back through one wall holds more often than two hops that know nothing of each other") {
  Site site = fixture::two_rooms();
  site.profiles["repeater"] = site.profiles.at("hub");
  site.profiles["repeater"].name = "repeater";
  site.storeys[0].inner_wall = {"heavy", {}};
  site.radio.diffraction = site.radio.reverberation = false;
  site.fading.on = false;
  site.devices.front().place = {0, {1, 3}, 1.5};
  site.devices.front().via = "relay";
  site.repeaters = {{.name = "relay", .profile = "repeater", .place = {0, {7, 2}, 1.5}}};
  site.reading = {.zero = Dbm{-120}, .full = Dbm{0}, .weak_below_percent = 40};
  site = at_doubtful_threshold(site, 0);
  const LinkTable table = link_table(site);
  const Link& link = table.links.front();
  CHECK(link.onward_correlation > 0.2);
  CHECK(link.pass_probability > link.own_probability * table.repeaters.front().own_probability + 0.01);
  check_against_draws(site, 9);
}

TEST_CASE("two hops share what readings left open of the scale, by how far up on it each reads") {
  // In the open, and so far apart at both ends that the model's own spread is shared by e^-50.
  Site site = fixture::two_rooms();
  site.profiles["repeater"] = site.profiles.at("hub");
  site.profiles["repeater"].name = "repeater";
  site.storeys[0].rooms.clear();
  site.radio.diffraction = site.radio.reverberation = false;
  site.devices.front().place = {0, {180, 2}, 1.5};
  site.devices.front().via = "relay";
  site.repeaters = {{.name = "relay", .profile = "repeater", .place = {0, {130, 2}, 1.5}}};
  site.reading = {.zero = Dbm{-100}, .full = Dbm{0}, .weak_below_percent = 5};
  Calibration& learned = site.calibration.emplace();
  learned.zero_sigma_db = 6;
  learned.full_sigma_db = 8;
  const LinkTable table = link_table(site);
  const Link& own = table.links.front();
  const Link& onward = table.repeaters.front();
  const auto variance_db2 = [&](const Link& hop, double q) {
    return hop.loss.sigma_db * hop.loss.sigma_db + 36 * (1 - q) * (1 - q) + 64 * q * q;
  };
  const double p = own.weaker().reading_percent / 100, q = onward.weaker().reading_percent / 100;
  REQUIRE(p > 0.2);
  REQUIRE(std::abs(q - p) > 0.02);
  const double wanted =
      (36 * (1 - p) * (1 - q) + 64 * p * q) / std::sqrt(variance_db2(own, p) * variance_db2(onward, q));
  CHECK(wanted > 0.3);
  CHECK(std::abs(own.onward_correlation - wanted) <= 1e-9);
}

TEST_CASE("hops share what both pass, however little it is, and nothing where both are sure") {
  const ParameterSpread sure{fixture::two_rooms()};
  const auto correlation = [&](double element_db, double model_db) {
    LossBreakdown loss;
    loss.items.resize(2);
    loss.items[0].sigma_db = model_db;
    loss.items[1].table_row = "board";
    loss.items[1].sigma_db = element_db;
    return hop_correlation(sure, {{0, 0, 1}, {5, 0, 1}, loss}, {{200, 0, 1}, {90, 0, 1}, loss});
  };
  for (const double db : {0.01, 0.5, 4.0}) {
    CHECK(std::abs(correlation(db, db) - 0.5) <=
          1e-9);  // so far apart that the model's part is each hop's own
    CHECK(std::abs(correlation(db, 2 * db) - 0.2) <= 1e-9);
    CHECK(correlation(db, 0) >= 0.99);
  }
  CHECK(correlation(0, 0) == 0);
}

TEST_CASE("hops with nothing in common give the product, hops alike the lesser of the two") {
  const auto chance = [](double needed_db) {
    return [=](double shift_db, double sigma_db) {
      return std::erfc((needed_db - shift_db) / sigma_db / std::sqrt(2.0)) / 2;
    };
  };
  for (const double needed_db : {-6.0, 0.0, 4.0}) {
    for (const double other_db : {-3.0, 2.0}) {
      const HopChance one{chance(needed_db), 5};
      const HopChance other{chance(other_db), 3};
      const double alone = one.chance(0, 5);
      const double of_other = other.chance(0, 3);
      CHECK(joint_chance(1e-9, one, other) == doctest::Approx(alone * of_other).epsilon(1e-6));
      CHECK(joint_chance(0.99, one, other) <= std::min(alone, of_other) + 1e-9);
      CHECK(joint_chance(0.99, one, other) > std::min(alone, of_other) - 0.06);
      CHECK(joint_chance(0.5, one, other) > alone * of_other);
      CHECK(joint_chance(-0.5, one, other) < alone * of_other);
    }
  }
}

TEST_CASE("two normal hops at their medians hold together as Sheppard's formula has it") {
  // W. F. Sheppard, 1899: the quadrant of a bivariate normal law is 1/4 + asin(rho) / (2 pi).
  const HopChance at_median{
      [](double shift_db, double sigma_db) { return std::erfc(-shift_db / sigma_db / std::sqrt(2.0)) / 2; },
      4};
  for (const double correlation : {-0.9, -0.5, -0.1, 0.1, 0.3, 0.5, 0.7, 0.9, 0.97}) {
    const double expected = 0.25 + std::asin(correlation) / (2 * std::acos(-1.0));
    CHECK(std::abs(joint_chance(correlation, at_median, at_median) - expected) < 1e-3);
  }
}

TEST_CASE("a correlation under kLeastHopCorrelation changes no chance by a thousandth") {
  const HopChance at_median{
      [](double shift_db, double sigma_db) { return std::erfc(-shift_db / sigma_db / std::sqrt(2.0)) / 2; },
      4};
  CHECK(std::abs(joint_chance(kLeastHopCorrelation, at_median, at_median) - 0.25) < 1e-3);
}
