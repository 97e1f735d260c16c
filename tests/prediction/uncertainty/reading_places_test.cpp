#include "linkmargin/prediction/uncertainty/reading_places.hpp"

#include "linkmargin/base/random.hpp"
#include "linkmargin/base/range.hpp"
#include "linkmargin/prediction/uncertainty/correlated_spread.hpp"

#include <Eigen/Cholesky>
#include <doctest/doctest.h>

#include <cmath>

using namespace linkmargin;

namespace {

std::vector<ReadingSpread> random_readings(std::size_t count) {
  const RandomStream random(4, 0x91ACE);
  std::uint64_t draw = 0;
  const auto place = [&](double within_m) {
    return Point3{within_m * random.uniform(draw++), within_m * random.uniform(draw++),
                  3 * random.uniform(draw++)};
  };
  std::vector<ReadingSpread> readings;
  for (std::size_t i = 0; i < count; ++i) {
    const Point3 hub = i % 3 == 0 ? place(200) : Point3{10, 10, 2};
    readings.push_back(
        {i % 5 == 0 ? 1U : 0U, place(60), hub, 1 + 4 * random.uniform(draw++), 1 + random.uniform(draw++)});
  }
  return readings;
}

}  // namespace

TEST_CASE("the correlations of a link with many readings are those of each") {
  const std::vector<ReadingSpread> readings = random_readings(101);
  const ReadingPlaces places(readings);
  std::vector<double> found(readings.size());
  for (const double length_m : {0.05, 2.0, 100.0}) {
    for (const ReadingSpread& link : readings) {
      places.correlations(link, length_m, found);
      for (std::size_t i = 0; i < readings.size(); ++i)
        CHECK(std::abs(found[i] - correlation(link, readings[i], length_m)) <= 2e-13);
    }
  }
  CHECK_THROWS_AS(places.correlations(readings[0], 0.01, found), DomainError);
}

TEST_CASE("the inverse of a covariance undoes it, and squares what few readings say") {
  const std::vector<ReadingSpread> readings = random_readings(250);
  const CovarianceInverse inverse = CorrelatedSpread(readings, 2).inverse();
  const auto count = static_cast<Eigen::Index>(readings.size());
  Eigen::MatrixXd covariance = Eigen::MatrixXd::Zero(count, count);
  for (const CovarianceBlock& block : covariance_blocks(readings, 2))
    covariance(block.rows, block.rows) = block.local_db2;
  for (Eigen::Index i = 0; i < count; ++i)
    covariance(i, i) +=
        readings[static_cast<std::size_t>(i)].spot_db * readings[static_cast<std::size_t>(i)].spot_db;
  for (Eigen::Index i = 0; i < count; ++i) {
    const Eigen::VectorXd unit = Eigen::VectorXd::Unit(count, i);
    CHECK((covariance * inverse.column(i) - unit).cwiseAbs().maxCoeff() <= 1e-11);
  }
  const std::vector<Eigen::Index> some{3, 17, 60, 61, 199, 249};
  Eigen::VectorXd values(6), all = Eigen::VectorXd::Zero(count);
  values << 1, -2, 0.5, 3, 1, -1;
  all(some) = values;
  const Eigen::VectorXd solved = covariance.ldlt().solve(all);
  CHECK(std::abs(inverse.squared(some, values) - all.dot(solved)) <= 1e-11);
  for (const Eigen::Index i : some) CHECK(inverse.at(17, i) == inverse.column(i)[17]);
}
