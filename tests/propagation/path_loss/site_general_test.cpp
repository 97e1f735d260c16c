#include "linkmargin/propagation/path_loss/site_general.hpp"

#include "linkmargin/propagation/path_loss/free_space.hpp"
#include "linkmargin/propagation/path_loss/multi_wall.hpp"

#include "fixtures/published_table.hpp"
#include "fixtures/range_edges.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

using namespace linkmargin;
using linkmargin::testing::PublishedTable;

TEST_CASE("coefficient form: the embedded rows are those of the published table") {
  const auto table = PublishedTable::read("site_general_coefficients.csv", 6);
  CHECK(site_general_coefficients().size() == 6);
  for (const auto& row : table.rows()) {
    CAPTURE(row.where());
    const auto* found = find_site_general(row.text("environment"), row.text("sight") == "LoS");
    REQUIRE(found != nullptr);
    CHECK(find_site_general(found->name) == found);
    CHECK(found->alpha == row.number("alpha"));
    CHECK(found->beta == row.number("beta"));
    CHECK(found->gamma == row.number("gamma"));
    CHECK(found->sigma_db == row.number("sigma_db"));
    CHECK(std::abs(found->frequency_hz.min / 1e9 - row.number("from_ghz")) <= 1e-12);
    CHECK(std::abs(found->frequency_hz.max / 1e9 - row.number("to_ghz")) <= 1e-12);
    CHECK(found->distance_m.min == row.number("from_m"));
    CHECK(found->distance_m.max == row.number("to_m"));
    CHECK_FALSE(found->verified.empty());
  }
  CHECK(find_site_general("residential", true) == nullptr);
  CHECK(find_site_general("office") == nullptr);
}

TEST_CASE("coefficient form: 36 tabulated losses") {
  const auto table = PublishedTable::read("site_general_loss.csv", 36);
  testing::Worst worst;
  for (const auto& row : table.rows()) {
    CAPTURE(row.where());
    const auto* environment = find_site_general(row.text("environment"), row.text("sight") == "LoS");
    REQUIRE(environment != nullptr);
    const double loss_db =
        site_general_loss_db(*environment, row.number("distance_m"), row.number("frequency_ghz") * 1e9);
    CHECK(worst.add(loss_db, row.number("loss_db")) <= row.number("tolerance_db"));
  }
  MESSAGE("P.1238 coefficient form, worst deviation in dB: " << worst.largest());
}

TEST_CASE("coefficient form: the frequency counts in gigahertz, and nothing is held at free space") {
  // sanity figures computed from the table: office in sight, 1 GHz, 10 m is 49.2 dB, free space 52.4 dB
  CHECK(std::abs(site_general_loss_db(*find_site_general("office", true), 10, 1e9) - 49.2) <= 0.05);
  const double corridor_db = site_general_loss_db(*find_site_general("corridor", true), 10, 868.3e6);
  CHECK(std::abs(corridor_db - 43.04) <= 0.005);
  CHECK(corridor_db < free_space_loss_db(10, 868.3e6) - 8);
}

TEST_CASE("power-loss form: eight tabulated losses") {
  const auto table = PublishedTable::read("power_loss.csv", 8);
  testing::Worst worst;
  for (const auto& row : table.rows()) {
    CAPTURE(row.where());
    const auto result = power_loss(row.text("environment"), row.number("distance_m"),
                                   row.number("frequency_mhz") * 1e6, static_cast<int>(row.number("floors")));
    CHECK(worst.add(result.loss_db, row.number("loss_db")) <= row.number("tolerance_db"));
    CHECK(result.floors_stated);
  }
  MESSAGE("P.1238 power-loss form, worst deviation in dB: " << worst.largest());
}

TEST_CASE(
    "power-loss form: the embedded coefficients, floor factors and spreads are those of the published "
    "tables") {
  const auto same_band = [](const PowerLossBand& band, const PublishedTable::Row& row) {
    return band.environment == row.text("environment") &&
           band.min_frequency_hz == row.number("from_mhz") * 1e6 &&
           band.max_frequency_hz == row.number("to_mhz") * 1e6;
  };
  int matched = 0;
  const auto coefficients = PublishedTable::read("power_loss_coefficients.csv", 17);
  for (const auto& row : coefficients.rows()) {
    for (const PowerLossCoefficient& own : power_loss_coefficients()) {
      if (same_band(own.band, row) && own.decade_db == row.number("decade_db")) ++matched;
    }
  }
  CHECK(matched == 17);
  CHECK(power_loss_coefficients().size() == 17);

  matched = 0;
  const auto sigmas = PublishedTable::read("power_loss_sigmas.csv", 4);
  for (const auto& row : sigmas.rows()) {
    for (const PowerLossSigma& own : power_loss_sigmas()) {
      if (same_band(own.band, row) && own.sigma_db == row.number("sigma_db")) ++matched;
    }
  }
  CHECK(matched == 4);
  CHECK(power_loss_sigmas().size() == 4);

  matched = 0;
  const auto factors = PublishedTable::read("floor_factors.csv", 26);
  for (const auto& row : factors.rows()) {
    CAPTURE(row.where());
    const auto result = power_loss(row.text("environment"), 10, row.number("from_mhz") * 1e6,
                                   static_cast<int>(row.number("floors")));
    REQUIRE(result.floor_factor != nullptr);
    CHECK(same_band(result.floor_factor->band, row));
    CHECK(result.floor_db == row.number("loss_db"));
    CHECK(result.floors_stated);
    ++matched;
  }
  CHECK(matched == 26);
  CHECK(floor_factors().size() == 11);
}

TEST_CASE("power-loss form: the constant is 28, which is below free space at 1 m") {
  const double loss_db = power_loss("office", 1, 868.3e6, 0).loss_db;
  CHECK(std::abs(loss_db - 30.773) <= 0.001);  // computed from the stated formula
  CHECK(std::abs(free_space_loss_db(1, 868.3e6) - loss_db - 0.448) <= 0.001);
}

TEST_CASE("power-loss form: the nearest band is used and named") {
  const auto home = power_loss("residential", 10, 868.3e6, 2);
  CHECK(home.coefficient->decade_db == 28);
  CHECK(home.coefficient->band.min_frequency_hz == 1800e6);
  CHECK(std::abs(home.coefficient->band.octaves_outside(868.3e6) - std::log2(1800 / 868.3)) <= 1e-12);
  CHECK(home.floor_db == 8);
  CHECK(home.sigma->sigma_db == 8);

  const auto office = power_loss("office", 10, 868.3e6, 1);
  CHECK(office.coefficient->band.min_frequency_hz == 900e6);
  CHECK(office.sigma->band.min_frequency_hz == 1800e6);
  CHECK(power_loss("office", 10, 868.3e6, 0).floor_factor == nullptr);
  CHECK(power_loss("office", 10, 1900e6, 1).coefficient->band.octaves_outside(1900e6) == 0);

  CHECK(power_loss("house", 10, 868.3e6, 1).floor_db == 4);  // the residential rule at 1.8 GHz
  CHECK(power_loss("apartment", 10, 2440e6, 1).floor_db == 10);
  CHECK(power_loss("apartment", 10, 5200e6, 0).coefficient->decade_db == 30);
  CHECK(power_loss("house", 10, 5200e6, 0).coefficient->decade_db == 28);
  CHECK(power_loss("residential", 10, 5200e6, 0).coefficient->band.environment == "apartment");

  // 1039.23 MHz is the geometric middle of 900 and 1200: the lower band up to there
  CHECK(power_loss("office", 10, 1039e6, 0).coefficient->decade_db == 33);
  CHECK(power_loss("office", 10, 1040e6, 0).coefficient->decade_db == 32);
}

TEST_CASE("power-loss form: more floors than the table states cost the last step each, and say so") {
  CHECK(power_loss("office", 10, 868.3e6, 3).floors_stated);
  const auto four = power_loss("office", 10, 868.3e6, 4);
  CHECK(four.floor_db == 29);  // 9, 19, 24, then 5 more
  CHECK_FALSE(four.floors_stated);
  const auto two = power_loss("office", 10, 2400e6, 2);
  CHECK(two.floor_db == 28);
  CHECK_FALSE(two.floors_stated);
  CHECK(power_loss("commercial", 10, 1900e6, 9).floor_db == 30);  // 6 + 3 (n - 1), a rule for any number
  CHECK(power_loss("commercial", 10, 1900e6, 9).floors_stated);
}

TEST_CASE("site-general loss: edges of the ranges") {
  using testing::check_edges;
  const auto& office = *find_site_general("office", false);
  check_edges(kDistanceM, [&](double value) { return site_general_loss_db(office, value, 868e6); });
  check_edges(kFrequencyHz, [&](double value) { return site_general_loss_db(office, 10, value); });
  check_edges(kDistanceM, [](double value) { return power_loss("house", value, 868e6, 1).loss_db; });
  check_edges(kFrequencyHz, [](double value) { return power_loss("house", 10, value, 1).loss_db; });
  CHECK_THROWS_AS(power_loss("house", 10, 868e6, -1), DomainError);
  CHECK_THROWS_AS(power_loss("house", 10, 868e6, static_cast<int>(kFloors.max) + 1), DomainError);
  CHECK(std::isfinite(power_loss("house", 10, 868e6, static_cast<int>(kFloors.max)).loss_db));
  CHECK_THROWS_AS(power_loss("castle", 10, 868e6, 0), DomainError);
}
