#include "linkmargin/propagation/fading/shadowing.hpp"

#include "fixtures/published_table.hpp"
#include "fixtures/range_edges.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

using namespace linkmargin;
using linkmargin::testing::PublishedTable;

TEST_CASE("log-normal margins") {
  const auto table = PublishedTable::read("log_normal_margin.csv", 9);
  testing::Worst worst;
  for (const auto& row : table.rows()) {
    CAPTURE(row.where());
    const double margin_db = log_normal_margin_db(row.number("chance"), row.number("sigma_db"));
    CHECK(worst.add(margin_db, row.number("margin_db")) <= row.number("tolerance_db"));
  }
  MESSAGE("log-normal margin, worst deviation in dB: " << worst.largest());
}

TEST_CASE("the chance of a level at 2 km in a textbook's fit") {
  // Rappaport, four-point fit: median -57.24 dBm, sigma 6.17 dB, threshold -60 dBm give 67.4 %; print from
  // memory, recomputed 67.24 % with sigma 6.158
  CHECK(std::abs(100 * chance_of_reaching(-57.24, -60, 6.17) - 67.4) <= 0.3);
  CHECK(std::abs(100 * chance_of_reaching(-57.2453, -60, 6.172) - 67.24) <= 0.05);
}

TEST_CASE("identities of the normal distribution") {
  CHECK(normal_cdf(0) == 0.5);
  CHECK(normal_cdf(std::numeric_limits<double>::infinity()) == 1);
  CHECK(normal_cdf(-std::numeric_limits<double>::infinity()) == 0);
  CHECK(normal_cdf(1e300) == 1);
  CHECK(normal_cdf(-1e300) == 0);
  CHECK(normal_cdf(-37.6) >= 0);  // where a double's exponent ends
  for (const double x : {0.1, 0.5, 1.0, 2.0, 4.0, 6.5}) {
    CAPTURE(x);
    CHECK(std::abs(normal_cdf(x) + normal_cdf(-x) - 1) <= 1e-15);
    CHECK(std::abs(normal_cdf(-x) - std::erfc(x / std::sqrt(2.0)) / 2) <=
          1e-15);  // the C library as second tool
    CHECK(std::abs(normal_quantile(normal_cdf(-x)) + x) <= 1e-12);
  }
  CHECK(normal_quantile(0.5) == 0);
}

TEST_CASE("the chance of reaching a threshold") {
  CHECK(chance_of_reaching(-80, -80, 6) == 0.5);
  CHECK(std::abs(chance_of_reaching(-80 + log_normal_margin_db(0.95, 6), -80, 6) - 0.95) <= 1e-12);
  CHECK(chance_of_reaching(-80, -80, 0) == 1);
  CHECK(chance_of_reaching(-80.001, -80, 0) == 0);
}

TEST_CASE("shadowing: edges of the ranges") {
  using testing::check_edges;
  CHECK_THROWS_AS(normal_cdf(std::numeric_limits<double>::quiet_NaN()), DomainError);
  check_edges(kChance, [](double value) { return normal_quantile(value); });
  check_edges(kChance, [](double value) { return log_normal_margin_db(value, 6); });
  check_edges(kShadowingSigmaDb, [](double value) { return log_normal_margin_db(0.9, value); });
  check_edges(kShadowingSigmaDb, [](double value) { return chance_of_reaching(-80, -90, value); });
  check_edges(kShadowedLevelDb, [](double value) { return chance_of_reaching(value, -90, 6); });
  check_edges(kShadowedLevelDb, [](double value) { return chance_of_reaching(-80, value, 6); });
}
