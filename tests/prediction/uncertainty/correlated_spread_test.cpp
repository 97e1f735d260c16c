#include "linkmargin/prediction/uncertainty/correlated_spread.hpp"

#include "linkmargin/base/random.hpp"
#include "linkmargin/base/range.hpp"
#include "linkmargin/propagation/fading/shadowing.hpp"

#include <Eigen/Cholesky>
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace linkmargin;

namespace {

std::vector<ReadingSpread> scattered(std::size_t count, double side_m, std::uint64_t seed) {
  const RandomStream random(seed, 0);
  std::vector<ReadingSpread> readings;
  for (std::size_t i = 0; i < count; ++i) {
    ReadingSpread reading;
    reading.device = {side_m * random.uniform(3 * i), side_m * random.uniform(3 * i + 1), 1};
    reading.hub = i % 2 == 0 ? Point3{0, 0, 2} : Point3{30, 0, 2};
    reading.local_db = 3 + random.uniform(3 * i + 2);
    reading.spot_db = 2;
    readings.push_back(reading);
  }
  return readings;
}

Eigen::MatrixXd covariance(const std::vector<ReadingSpread>& readings, double length_m) {
  const auto count = static_cast<Eigen::Index>(readings.size());
  Eigen::MatrixXd matrix(count, count);
  for (Eigen::Index i = 0; i < count; ++i) {
    for (Eigen::Index j = 0; j < count; ++j) {
      const ReadingSpread &a = readings[static_cast<std::size_t>(i)],
                          &b = readings[static_cast<std::size_t>(j)];
      const bool together = a.hub == b.hub;
      matrix(i, j) = (together ? a.local_db * b.local_db * correlation(a, b, length_m) : 0) +
                     (i == j ? a.spot_db * a.spot_db : 0);
    }
  }
  return matrix;
}

}  // namespace

TEST_CASE("likeness: one at one place, less with distance at either end, none between sites") {
  const ReadingSpread a{0, {0, 0, 0}, {5, 0, 0}, 3, 2};
  ReadingSpread b = a;
  CHECK(correlation(a, b, 2) == 1);
  b.device.x = 2;
  CHECK(std::abs(correlation(a, b, 2) - std::exp(-1)) < 1e-15);
  b.hub.y = 2;
  CHECK(std::abs(correlation(a, b, 2) - std::exp(-2)) < 1e-15);
  CHECK(correlation(a, b, 2) == correlation(b, a, 2));
  b.site = 1;
  CHECK(correlation(a, b, 2) == 0);
  CHECK_THROWS_AS(correlation(a, a, 0), DomainError);
}

TEST_CASE("whitening turns the covariance into the unit matrix, in blocks by hub") {
  const auto readings = scattered(40, 6, 5);
  const CorrelatedSpread spread(readings, 1.5);
  const Eigen::MatrixXd matrix = covariance(readings, 1.5);
  const Eigen::MatrixXd half = spread.whitened(matrix);  // L^-1 C = L'
  CHECK((half.transpose() * half - matrix).cwiseAbs().maxCoeff() < 1e-10);
  const Eigen::MatrixXd unit = spread.back(spread.whitened(matrix));
  CHECK((unit - Eigen::MatrixXd::Identity(40, 40)).cwiseAbs().maxCoeff() < 1e-10);
  for (Eigen::Index i = 0; i < 40; ++i)
    CHECK(std::abs(spread.sigma_db()[i] - std::sqrt(matrix(i, i))) < 1e-12);
}

TEST_CASE("what has no spread of its own is refused") {
  auto readings = scattered(3, 6, 5);
  readings[1].spot_db = 0;
  CHECK_THROWS_AS(CorrelatedSpread(readings, 2), DomainError);
  readings[1].spot_db = std::nan("");
  CHECK_THROWS_AS(CorrelatedSpread(readings, 2), DomainError);
}

TEST_CASE("ten readings of one spot count as one local mean and ten spots") {
  const std::vector<ReadingSpread> one(10, ReadingSpread{0, {1, 1, 1}, {5, 5, 1}, 4, 3});
  const Eigen::VectorXd counted = effective_sigma_db(one, 2);
  // Each counts 10 x 16 + 9, so that the mean of ten has a tenth of it: 16 + 0.9.
  for (Eigen::Index i = 0; i < 10; ++i) CHECK(std::abs(counted[i] * counted[i] / 10 - 16.9) < 1e-12);
}

TEST_CASE("the mean's variance by counted readings is that by the whole covariance") {
  auto readings = scattered(60, 5, 9);
  for (ReadingSpread& reading : readings) {
    reading.hub = {0, 0, 2};
    reading.local_db = 4;
  }
  const Eigen::MatrixXd matrix = covariance(readings, 2);
  const Eigen::VectorXd counted = effective_sigma_db(readings, 2);
  const double whole = matrix.sum() / (60.0 * 60.0);
  CHECK(std::abs(counted.array().square().sum() / (60.0 * 60.0) - whole) < 1e-12);
}

TEST_CASE("the length and the share that residuals show are found, and the default where there are few") {
  constexpr double length_m = 0.7;
  std::vector<ReadingSpread> readings = scattered(900, 14, 21);
  const double sigma_db = 4;
  for (ReadingSpread& reading : readings)
    reading.hub = {0, 0, 2}, reading.local_db = sigma_db, reading.spot_db = 0.5;
  // Drawn with 0.8 of the deviation alike, the rest by spot.
  const auto drawn = split_variance(readings, {length_m, 0.8});
  const Eigen::LLT<Eigen::MatrixXd> factor(covariance(drawn, length_m));
  Eigen::VectorXd normal(900);
  const RandomStream random(4, 0);
  for (Eigen::Index i = 0; i < 900; ++i)
    normal[i] = normal_quantile(std::clamp(random.uniform(static_cast<std::uint64_t>(i)), 1e-9, 1 - 1e-9));
  const Eigen::VectorXd deviations = factor.matrixL() * normal / std::hypot(sigma_db, 0.5);
  const ShadowingCorrelation found = fitted_shadowing_correlation(readings, deviations);
  CHECK(found.length_m > 0.45);
  CHECK(found.length_m < 1.1);
  CHECK(std::abs(found.local_share - 0.8) < 0.15);

  const std::vector<ReadingSpread> few(readings.begin(), readings.begin() + 2);
  CHECK(fitted_shadowing_correlation(few, deviations.head(2)).length_m > 1);
  CHECK(fitted_shadowing_correlation({}, Eigen::VectorXd(0)).length_m == kShadowingCorrelationM);
}

TEST_CASE("pairs count in all as much as there are readings") {
  // Twenty readings of one place without a residual: 25 (1 - s)^2 + 20 s^4 / (1 + s^4) is least at s = 0.668,
  // where 50 (1 - s) = 80 s^3 / (1 + s^4)^2; each of the 190 pairs by itself would have the least share
  // tried. Three readings have three pairs.
  const std::vector<ReadingSpread> readings(20, ReadingSpread{0, {1, 2, 1}, {5, 0, 2}, 4, 0});
  const auto found = [&](std::size_t count) {
    return fitted_shadowing_correlation(std::span(readings).first(count),
                                        Eigen::VectorXd::Zero(static_cast<Eigen::Index>(count)));
  };
  CHECK(std::abs(found(20).local_share - 0.668) <= 0.0101);
  CHECK(found(20).length_m == kShadowingCorrelationM);
  // 25 (1 - s)^2 + 3 s^4 / (1 + s^4): 50 (1 - s) = 12 s^3 / (1 + s^4)^2 at s = 0.935.
  CHECK(std::abs(found(3).local_share - 0.935) <= 0.0101);
}

TEST_CASE("telling apart keeps each reading's own deviation") {
  const auto readings = scattered(5, 6, 5);
  const auto apart = split_variance(readings, {2, 0.7});
  for (std::size_t i = 0; i < 5; ++i) {
    CHECK(std::abs(std::hypot(apart[i].local_db, apart[i].spot_db) -
                   std::hypot(readings[i].local_db, readings[i].spot_db)) < 1e-12);
    CHECK(std::abs(apart[i].local_db - 0.7 * readings[i].local_db) < 1e-12);
  }
}
