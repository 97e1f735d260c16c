#include "linkmargin/propagation/fading/composite_fading.hpp"

#include "linkmargin/propagation/fading/fading.hpp"
#include "linkmargin/propagation/fading/shadowing.hpp"

#include "fixtures/infinity.hpp"
#include "fixtures/published_table.hpp"
#include "fixtures/range_edges.hpp"

#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <numbers>

using namespace linkmargin;
using linkmargin::testing::PublishedTable;

namespace {

constexpr double kCompositeRatios[] = {-kInfinity, -10, 0, 1, 3, 4.5, 6, 8, 10, 15, 20};
constexpr double kCompositeSigmas[] = {0, 0.01, 0.1, 0.5, 1, 1.5, 2, 2.3, 2.4, 3, 4, 6, 8, 15};

/// Adaptive quadrature of the chance over the local mean, piece by piece.
double by_quadrature(double k_db, double level_db, double sigma_db) {
  if (sigma_db == 0) return rician_cdf(k_db, level_db);
  const auto integrand = [&](double score) {
    return std::exp(-score * score / 2) / std::sqrt(2 * std::numbers::pi) *
           rician_cdf(k_db, level_db - sigma_db * score);
  };
  double sum = 0;
  for (double low = -8; low < 8; low += 0.5)
    sum += boost::math::quadrature::gauss_kronrod<double, 21>::integrate(integrand, low, low + 0.5, 5, 1e-10);
  return sum;
}

}  // namespace

TEST_CASE("margins for Rayleigh plus log-normal fading") {
  const auto table = PublishedTable::read("rayleigh_log_normal_margin.csv", 8);
  const CompositeFading composite(-kInfinity);
  testing::Worst worst;
  for (const auto& row : table.rows()) {
    CAPTURE(row.where());
    const double margin_db = -composite.quantile_db(row.number("outage"), row.number("sigma_db"));
    CHECK(worst.add(margin_db, row.number("margin_db")) <= row.number("tolerance_db"));
  }
  MESSAGE("Rayleigh plus log-normal margins, worst deviation in dB: " << worst.largest());
}

TEST_CASE("the composite chance against adaptive quadrature") {
  double worst = 0;
  for (const double k_db : kCompositeRatios) {
    const CompositeFading composite(k_db);
    for (const double sigma_db : kCompositeSigmas) {
      for (double level_db = -60; level_db <= 20; level_db += 4) {
        const double apart =
            std::abs(composite.cdf(level_db, sigma_db) - by_quadrature(k_db, level_db, sigma_db));
        if (!(apart <= worst)) worst = apart;
      }
    }
  }
  MESSAGE("composite fading, worst deviation in probability: " << worst);
  CHECK(worst <= 1e-6);
}

TEST_CASE("the ends of the composite law") {
  for (const double k_db : {-kInfinity, -30.0, 0.0, 12.0, 30.0, 60.0, kInfinity}) {
    CAPTURE(k_db);
    const CompositeFading composite(k_db);
    for (const double sigma_db : {0.0, 0.001, 2.0, 40.0}) {
      CAPTURE(sigma_db);
      double before = 0;
      for (double level_db = -300; level_db <= 300; level_db += 0.25) {
        const double chance = composite.cdf(level_db, sigma_db);
        CHECK(chance >= before - 1e-9);
        CHECK(chance <= 1);
        before = chance;
      }
      CHECK(std::abs(before - 1) <= 1e-12);
      CHECK(composite.cdf(kFadeLevelDb.min, sigma_db) <= 1e-12);
    }
  }
}

TEST_CASE("without fading the composite is the local mean's law, without spread the fading's") {
  const CompositeFading steady(kInfinity);
  for (const double level_db : {-20.0, -5.0, 0.0, 3.0, 11.0})
    CHECK(std::abs(steady.cdf(level_db, 6) - normal_cdf(level_db / 6)) <= 1e-6);
  const CompositeFading rice(3);
  for (const double level_db : {-60.0, -20.0, -5.0, 0.0, 3.0})
    CHECK(std::abs(rice.cdf(level_db, 0) - rician_cdf(3, level_db)) <= 2e-7);
}

TEST_CASE("composite quantiles turn the chance round") {
  const CompositeFading composite(3);
  for (const double sigma_db : {0.0, 1.0, 6.0, 15.0})
    for (const double chance : {1e-5, 0.01, 0.1, 0.5, 0.9, 0.999})
      CHECK(std::abs(composite.cdf(composite.quantile_db(chance, sigma_db), sigma_db) - chance) <= 1e-8);
}

TEST_CASE("composite fading: edges of the ranges") {
  const CompositeFading composite(3);
  testing::check_edges(kFadeLevelDb, [&](double value) { return composite.cdf(value, 6); });
  testing::check_edges(kLocalMeanSigmaDb, [&](double value) { return composite.cdf(-3, value); });
  testing::check_edges(kLocalMeanSigmaDb, [&](double value) { return composite.quantile_db(0.1, value); });
  testing::check_edges(kChance, [&](double value) { return composite.quantile_db(value, 6); });
  CHECK_THROWS_AS(static_cast<void>(CompositeFading(std::numeric_limits<double>::quiet_NaN())), DomainError);
}
