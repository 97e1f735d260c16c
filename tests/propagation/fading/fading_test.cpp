#include "linkmargin/propagation/fading/fading.hpp"

#include "linkmargin/base/random.hpp"
#include "linkmargin/propagation/fading/shadowing.hpp"

#include "fixtures/infinity.hpp"
#include "fixtures/published_table.hpp"
#include "fixtures/range_edges.hpp"

#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

using namespace linkmargin;
using linkmargin::testing::PublishedTable;

namespace {

constexpr double kRayleigh = -kInfinity;
constexpr double kRicianRatios[] = {kRayleigh, -20, 0, 3, 6, 10, 15, 20, 28, 29.9, 30.1, 35};

/// Integral over the level, in pieces, of the density and a power of the level.
double moment(double k_db, int power, double centre_db) {
  double sum = 0;
  const double width_db = rician_deviation_db(k_db);
  for (double low_db = -60 * width_db; low_db < 20 * width_db; low_db += width_db) {
    const auto integrand = [&](double level_db) {
      return std::pow(level_db - centre_db, power) * rician_density_per_db(k_db, level_db);
    };
    sum += boost::math::quadrature::gauss_kronrod<double, 31>::integrate(integrand, low_db, low_db + width_db,
                                                                         3, 1e-12);
  }
  return sum;
}

}  // namespace

TEST_CASE("quantiles of Rayleigh and Rician fading") {
  const auto table = PublishedTable::read("rician_quantiles.csv", 35);
  testing::Worst worst;
  for (const auto& row : table.rows()) {
    CAPTURE(row.where());
    const double k_db = row.number("k_db");
    const double level_db = rician_quantile_db(k_db, row.number("chance"));
    CHECK(worst.add(level_db, row.number("level_db")) <= row.number("tolerance_db"));
    CHECK(std::abs(rician_cdf(k_db, level_db) - row.number("chance")) <= 1e-10);
  }
  MESSAGE("Rician quantiles, worst deviation in dB: " << worst.largest());
}

TEST_CASE("Rayleigh fading in closed form") {
  // computed from the exponential power; not seen in print
  const double median_db = rician_quantile_db(kRayleigh, 0.5);
  CHECK(std::abs(rician_quantile_db(kRayleigh, 0.1) - median_db + 8.1815) <= 0.00006);
  CHECK(std::abs(rician_quantile_db(kRayleigh, 0.01) - median_db + 18.3864) <= 0.00006);
  CHECK(std::abs(rician_deviation_db(kRayleigh) - 5.5700) <= 0.00006);
  CHECK(std::abs(rician_mean_db(kRayleigh) + 2.507) <= 0.0006);
  // the better of two independent branches is under a level when both are
  CHECK(std::abs(rician_quantile_db(kRayleigh, std::sqrt(0.01)) + 9.773) <= 0.0006);
  CHECK(std::abs(rician_quantile_db(kRayleigh, std::sqrt(0.001)) + 14.930) <= 0.0006);
  for (const double level_db : {-90.0, -30.0, -3.0, 0.0, 5.0, 12.0})
    CHECK(rician_cdf(kRayleigh, level_db) ==
          doctest::Approx(-std::expm1(-std::pow(10, level_db / 10))).epsilon(1e-14));
}

TEST_CASE("mean, deviation and sum of the density against quadrature") {
  double worst_mean = 0, worst_deviation = 0;
  for (const double k_db : kRicianRatios) {
    CAPTURE(k_db);
    CHECK(std::abs(moment(k_db, 0, 0) - 1) <= 1e-9);
    const double mean_db = rician_mean_db(k_db);
    worst_mean = std::max(worst_mean, std::abs(moment(k_db, 1, 0) - mean_db));
    worst_deviation =
        std::max(worst_deviation, std::abs(std::sqrt(moment(k_db, 2, mean_db)) - rician_deviation_db(k_db)));
  }
  MESSAGE("Rician mean and deviation, worst against quadrature in dB: " << worst_mean << ", "
                                                                        << worst_deviation);
  CHECK(worst_mean <= 1e-8);
  CHECK(worst_deviation <= 1e-7);
}

TEST_CASE("the density is the slope of the chance") {
  for (const double k_db : kRicianRatios) {
    CAPTURE(k_db);
    for (const double chance : {1e-6, 0.01, 0.3, 0.9}) {
      const double level_db = rician_quantile_db(k_db, chance);
      const double h = 1e-3 * rician_deviation_db(k_db);
      const double slope = (rician_cdf(k_db, level_db + h) - rician_cdf(k_db, level_db - h)) / (2 * h);
      CHECK(rician_density_per_db(k_db, level_db) == doctest::Approx(slope).epsilon(1e-5));
    }
  }
}

TEST_CASE("the ends of the fading law") {
  for (const double k_db : {kRayleigh, -300.0, -40.0, 0.0, 12.0, 40.0, 60.0, 200.0, kInfinity}) {
    CAPTURE(k_db);
    double before = 0;
    for (double level_db = kFadeLevelDb.min; level_db <= kFadeLevelDb.max; level_db += 0.5) {
      const double chance = rician_cdf(k_db, level_db);
      CHECK(chance >= before - 1e-15);
      CHECK(chance <= 1);
      CHECK(std::isfinite(rician_density_per_db(k_db, level_db)));
      before = chance;
    }
    CHECK(before == 1);
    CHECK(rician_deviation_db(k_db) > 0);
  }
  CHECK(std::abs(rician_cdf(-200, -10) - rician_cdf(kRayleigh, -10)) <= 1e-15);
  CHECK(rician_cdf(kInfinity, 0.05) > 1 - 1e-12);  // counted as 60 dB: all but steady
  CHECK(rician_cdf(kInfinity, -0.05) < 1e-12);
  CHECK(rician_deviation_db(kInfinity) < 0.0062);
  CHECK(rician_cdf(6, -20) < rician_cdf(3, -20));
}

TEST_CASE("fading: edges of the ranges") {
  constexpr double kNan = std::numeric_limits<double>::quiet_NaN();
  testing::check_edges(kFadeLevelDb, [](double value) { return rician_cdf(3, value); });
  testing::check_edges(kFadeLevelDb, [](double value) { return rician_density_per_db(3, value); });
  testing::check_edges(kChance, [](double value) { return rician_quantile_db(3, value); });
  CHECK_THROWS_AS(rician_cdf(kNan, 0), DomainError);
  CHECK_THROWS_AS(rician_mean_db(kNan), DomainError);
  CHECK_THROWS_AS(rician_deviation_db(kNan), DomainError);
}

TEST_CASE("K between short dipoles of unknown orientation, against dipoles that are turned at random") {
  const RandomStream random(11, 1);
  constexpr std::uint64_t kPairs = 200'000;
  // Along a line in z: what two dipoles share of a wave's field, squared, over its mean.
  std::vector<double> shared;
  double mean = 0;
  for (std::uint64_t i = 0; i < kPairs; ++i) {
    const auto upright = [&](std::uint64_t at) { return 2 * random.uniform(4 * i + at) - 1; };
    const auto round = [&](std::uint64_t at) { return 6.283185307179586 * random.uniform(4 * i + at); };
    const double a = upright(0), b = upright(1);
    const double both = std::sqrt((1 - a * a) * (1 - b * b)) * std::cos(round(2) - round(3));
    shared.push_back(both * both);
    mean += both * both / kPairs;
  }
  CHECK(std::abs(mean - 2.0 / 9) <= 0.001);
  for (const double k_db : {-15.0, -5.0, 0.0, 4.0, 10.0, 14.0, 20.0}) {
    CAPTURE(k_db);
    const double k = std::pow(10, k_db / 10);
    double variance = 0;  // of the power over the square of its mean
    for (const double one : shared) {
      const double own = k * one / mean;
      variance += (1 + 2 * own) / ((1 + own) * (1 + own)) / kPairs;
    }
    const double found = std::pow(10, unknown_orientation_k_db(k) / 10);
    CHECK(std::abs((1 + 2 * found) / ((1 + found) * (1 + found)) - variance) <= 0.003);
  }
  CHECK(unknown_orientation_k_db(0) == kLeastUnturnedKDb);
  CHECK(unknown_orientation_k_db(1e9) == unknown_orientation_k_db(100));
  CHECK_THROWS_AS(unknown_orientation_k_db(-1), DomainError);
  CHECK_THROWS_AS(unknown_orientation_k_db(std::nan("")), DomainError);
}
