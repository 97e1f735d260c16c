#include "linkmargin/propagation/fading/area_coverage.hpp"

#include "linkmargin/propagation/fading/shadowing.hpp"

#include "fixtures/range_edges.hpp"
#include "fixtures/published_table.hpp"

#include <boost/math/quadrature/tanh_sinh.hpp>
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace linkmargin;
using linkmargin::testing::PublishedTable;

namespace {

double by_quadrature(double edge_chance, double exponent, double sigma_db) {
  boost::math::quadrature::tanh_sinh<double> integrator;
  const double edge = normal_quantile(edge_chance);
  return integrator.integrate(
      [&](double radius) {
        return 2 * radius * normal_cdf(edge - 10 * exponent * std::log10(radius) / sigma_db);
      },
      0.0, 1.0, 1e-14);
}

}  // namespace

TEST_CASE("share of a disc that is covered") {
  // textbook charts print 94 and 91 % for the first two; those do not follow from the formula
  const auto table = PublishedTable::read("area_coverage.csv", 4);
  testing::Worst worst;
  for (const auto& row : table.rows()) {
    CAPTURE(row.where());
    const double share =
        area_coverage(row.number("edge_percent") / 100, row.number("exponent"), row.number("sigma_db"));
    CHECK(worst.add(100 * share, row.number("share_percent")) <= row.number("tolerance_percent"));
  }
  MESSAGE("area coverage, worst deviation in percent: " << worst.largest());
}

TEST_CASE("area coverage against quadrature") {
  double worst = 0, worst_back = 0;
  for (const double edge : {1e-6, 0.01, 0.1, 0.5, 0.75, 0.9, 0.99, 1 - 1e-6}) {
    for (const double exponent : {0.5, 1.6, 2.0, 3.5, 6.0}) {
      for (const double sigma_db : {0.1, 1.0, 4.0, 8.0, 14.0, 60.0}) {
        CAPTURE(edge);
        CAPTURE(exponent);
        CAPTURE(sigma_db);
        const double share = area_coverage(edge, exponent, sigma_db);
        worst = std::max(worst, std::abs(share - by_quadrature(edge, exponent, sigma_db)));
        if (share > 0.999999) continue;
        const double back = edge_chance_of_coverage(share, exponent, sigma_db);
        worst_back = std::max(worst_back, std::abs(area_coverage(back, exponent, sigma_db) - share));
      }
    }
  }
  MESSAGE("area coverage, worst against quadrature and after a round trip: " << worst << ", " << worst_back);
  CHECK(worst <= 1e-12);
  CHECK(worst_back <= 1e-10);
}

TEST_CASE("area coverage: edges of the ranges") {
  using testing::check_edges;
  check_edges(kChance, [](double value) { return area_coverage(value, 2, 8); });
  check_edges(kCoverageExponent, [](double value) { return area_coverage(0.75, value, 8); });
  check_edges(kCoverageSigmaDb, [](double value) { return area_coverage(0.75, 2, value); });
  CHECK_THROWS_AS(edge_chance_of_coverage(1e-12, 4, 4), DomainError);  // an edge of 1e-12 gives more
  CHECK_THROWS_AS(edge_chance_of_coverage(1, 2, 8), DomainError);
}
