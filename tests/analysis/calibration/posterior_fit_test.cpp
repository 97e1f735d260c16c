#include "linkmargin/analysis/calibration/posterior_fit.hpp"

#include "linkmargin/base/random.hpp"
#include "linkmargin/base/range.hpp"
#include "linkmargin/propagation/fading/shadowing.hpp"

#include <Eigen/QR>
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace linkmargin;

namespace {

ParameterPrior normal_prior(Eigen::VectorXd mean, Eigen::VectorXd sigma) {
  const auto count = static_cast<std::size_t>(mean.size());
  return {std::move(mean), std::move(sigma), std::vector<bool>(count, false)};
}

/// Readings that are values, about a prediction of 0 at the prior's mean.
LinearReadings values(const Eigen::VectorXd& read, const Eigen::MatrixXd& predicted_slope, double sigma_db,
                      const Eigen::VectorXd& at) {
  LinearReadings readings;
  readings.at = at;
  readings.residual_db = read - predicted_slope * at;
  readings.slope_db = -predicted_slope;
  readings.kinds.assign(static_cast<std::size_t>(read.size()), ReadingKind::exact);
  readings.sigma_db = Eigen::VectorXd::Constant(read.size(), sigma_db);
  readings.effective_sigma_db = readings.sigma_db;
  return readings;
}

Eigen::VectorXd column(std::initializer_list<double> numbers) {
  Eigen::VectorXd result(static_cast<Eigen::Index>(numbers.size()));
  std::copy(numbers.begin(), numbers.end(), result.begin());
  return result;
}

/// Standard normal draws, each by its number.
class Noise {
 public:
  explicit Noise(std::uint64_t seed) : stream_(seed, 0) {}
  double operator()(Eigen::Index draw) const {
    return normal_quantile(std::clamp(stream_.uniform(static_cast<std::uint64_t>(draw)), 1e-12, 1 - 1e-12));
  }

 private:
  RandomStream stream_;
};

/// One offset and one slope over ten places.
struct Line {
  Eigen::MatrixXd slope = Eigen::MatrixXd::Ones(10, 2);
  Eigen::VectorXd truth = column({-4.5, 1.7});
  Line() {
    for (Eigen::Index i = 0; i < 10; ++i) slope(i, 1) = static_cast<double>(i) - 3;
  }
};

}  // namespace

TEST_CASE("the textbook fit of four levels: exponent, deviation and the level at 2 km") {
  // Rappaport, Wireless Communications, chapter on log-normal shadowing; the text from memory, figures
  // recomputed with exact logarithms: n 4.4131, sigma 6.158 dB and -57.245 dBm at 2 km for n = 4.4.
  const Eigen::VectorXd levels = column({0, -20, -35, -70});
  const Eigen::VectorXd distances_m = column({100, 200, 1000, 3000});
  const Eigen::MatrixXd slope = -10 * (distances_m.array() / 100).log10().matrix();
  // A spread so wide that Student's t is flat over the residuals, and a prior as wide: least squares.
  const auto fit =
      posterior_fit(values(levels, slope, 1e4, column({3})), normal_prior(column({3}), column({1e7})));
  CHECK(fit.converged);
  CHECK(std::abs(fit.value[0] - 4.41310) < 5e-6);
  const Eigen::VectorXd off = levels - slope * 4.4;
  CHECK(std::abs(std::sqrt(off.squaredNorm() / 4) - 6.158) < 5e-4);
  CHECK(std::abs(-10 * 4.4 * std::log10(20.0) + 57.2453) < 5e-5);
  CHECK(std::abs(-10 * fit.value[0] * std::log10(20.0) + 57.4158) < 2e-4);
}

TEST_CASE("noise-free readings recover the parameters to 1e-6") {
  const Line line;
  const Eigen::VectorXd prior = column({0, 1});
  const auto readings = values(line.slope * line.truth, line.slope, 1e-4, prior);
  const auto fit = posterior_fit(readings, normal_prior(prior, column({6, 1})));
  CHECK(fit.converged);
  CHECK((fit.value - line.truth).cwiseAbs().maxCoeff() < 1e-6);
}

TEST_CASE("mode, covariance, leverage and weights are those of an independent computation") {
  // tests/analysis/posterior_fit_numpy.py, which prints them in this order; Debian's NumPy 1.24.2.
  Eigen::MatrixXd slope(5, 2);
  slope << 1, 0.5, 1, 1, 1, 2, 1, 3, 1, 4;
  auto readings = values(column({1, 2.5, 2, 5.5, 30}), slope, 2, column({0.5, 1}));
  readings.sigma_db = column({2, 2, 3, 2, 2});
  readings.effective_sigma_db = column({2.5, 2.5, 3, 2, 4});
  const auto fit = posterior_fit(readings, normal_prior(column({0.5, 1}), column({4, 1})));
  const auto near = [](double left, double right) { return std::abs(left - right) < 2e-5; };
  CHECK(near(fit.scale, 0.928145));
  CHECK(near(fit.value[0], 0.729849));
  CHECK(near(fit.value[1], 1.397818));
  CHECK(near(fit.covariance(0, 0), 2.213623));
  CHECK(near(fit.covariance(0, 1), -0.743266));
  CHECK(near(fit.covariance(1, 1), 0.445270));
  const auto leverage = column({0.362378, 0.269472, 0.153218, 0.623930, 0.007380});
  const auto weight = column({1.233548, 1.237553, 1.162750, 1.220549, 0.029991});
  CHECK((fit.leverage - leverage).cwiseAbs().maxCoeff() < 2e-5);
  CHECK((fit.weight - weight).cwiseAbs().maxCoeff() < 2e-5);
}

TEST_CASE("without readings, and for what they do not tell, the prior stays") {
  const Eigen::VectorXd prior = column({1, 2});
  const auto none = posterior_fit(values(Eigen::VectorXd(0), Eigen::MatrixXd(0, 2), 1, prior),
                                  normal_prior(prior, column({3, 4})));
  CHECK((none.value - prior).norm() < 1e-12);
  CHECK(std::abs(none.covariance(1, 1) - 16) < 1e-9);
  CHECK(none.scale == 1);

  // Two columns alike: only their sum is told, and it is shared out as the priors' variances are.
  Eigen::MatrixXd alike = Eigen::MatrixXd::Ones(8, 3);
  alike.col(2).setZero();
  const Eigen::VectorXd zero = Eigen::VectorXd::Zero(3);
  const auto fit = posterior_fit(values(Eigen::VectorXd::Constant(8, 10), alike, 0.01, zero),
                                 normal_prior(zero, column({1, 2, 5})));
  CHECK(fit.converged);
  CHECK(std::abs(fit.value[0] - 2) < 1e-3);
  CHECK(std::abs(fit.value[1] - 8) < 1e-3);
  CHECK(fit.covariance(0, 1) / std::sqrt(fit.covariance(0, 0) * fit.covariance(1, 1)) < -0.999);
  CHECK(fit.value[2] == 0);
  CHECK(std::abs(fit.covariance(2, 2) - 25) < 1e-9);
}

TEST_CASE("one reading already helps, and is not believed alone") {
  const Eigen::VectorXd zero = column({0});
  const auto readings = values(column({-8}), Eigen::MatrixXd::Ones(1, 1), 6, zero);
  const auto fit = posterior_fit(readings, normal_prior(zero, column({6})));
  // Prior and reading pull alike at the mode: x = (5 / (4 + (r / 6 s)^2)) r / s^2 with r = -8 - x.
  const double r = -8 - fit.value[0], s = fit.scale;
  CHECK(std::abs(s - 1) < 0.05);
  CHECK(std::abs(fit.value[0] - 5 / (4 + r * r / (36 * s * s)) * r / (s * s)) < 1e-8);
  CHECK(std::abs(fit.value[0] + 4.25) < 0.15);
  CHECK(fit.covariance(0, 0) < 36);
}

TEST_CASE("one gross outlier does not bend the fit") {
  const Line line;
  const Eigen::VectorXd prior = column({0, 1});
  Eigen::VectorXd read = line.slope * line.truth;
  const Noise noise(7);
  for (Eigen::Index i = 0; i < 10; ++i) read[i] += 2 * noise(i);
  const auto clean = posterior_fit(values(read, line.slope, 2, prior), normal_prior(prior, column({6, 1})));
  read[9] -= 40;
  const auto spoilt = posterior_fit(values(read, line.slope, 2, prior), normal_prior(prior, column({6, 1})));
  const auto squares = [&] {  // what plain least squares would have made of it
    return Eigen::VectorXd(line.slope.colPivHouseholderQr().solve(read));
  }();
  CHECK(spoilt.converged);
  CHECK(spoilt.weight[9] < 0.1);
  CHECK((spoilt.value - clean.value).norm() < 0.2 * (squares - clean.value).norm());
}

TEST_CASE("bounds alone move the fit the right way, and only so far") {
  const Eigen::VectorXd zero = column({0});
  auto readings = values(column({10, 10, 10, 10}), Eigen::MatrixXd::Ones(4, 1), 5, zero);
  const auto at = [&](ReadingKind kind) {
    readings.kinds.assign(4, kind);
    return posterior_fit(readings, normal_prior(zero, column({6})));
  };
  const auto low = at(ReadingKind::at_most), value = at(ReadingKind::exact), high = at(ReadingKind::at_least);
  for (const auto* fit : {&low, &value, &high}) CHECK(fit->converged);
  CHECK(low.value[0] < 0);  // all are known to lie under 10, as was expected
  CHECK(low.value[0] > -6);
  CHECK(value.value[0] < 10);
  CHECK(high.value[0] > value.value[0]);
  CHECK(high.covariance(0, 0) > value.covariance(0, 0));
  CHECK(low.covariance(0, 0) > high.covariance(0, 0));
  readings.residual_db.setConstant(80);  // broken bounds: as if read there, no more
  CHECK(at(ReadingKind::at_most).value[0] < at(ReadingKind::at_least).value[0]);
}

TEST_CASE("a scale's span is not shrunk by the scatter of what it shows") {
  // Levels spread by 12 dB about -80, read with 6 dB of noise on a scale from -105 to -55: regression of the
  // level on the percentage would find 12^2 / (12^2 + 6^2) = 0.8 of the span.
  constexpr Eigen::Index count = 4000;
  const Noise noise(11);
  Eigen::VectorXd percent(count), level(count);
  for (Eigen::Index i = 0; i < count; ++i) {
    level[i] = -80 + 12 * noise(2 * i);
    percent[i] = 2 * (level[i] + 6 * noise(2 * i + 1) + 105);
  }
  const Eigen::VectorXd at = column({-100, -60});
  LinearReadings readings;
  readings.at = at;
  readings.slope_db.resize(count, 2);
  readings.slope_db.col(0) = 1 - percent.array() / 100;
  readings.slope_db.col(1) = percent / 100;
  readings.residual_db = readings.slope_db * at - level;
  readings.kinds.assign(count, ReadingKind::exact);
  readings.sigma_db = Eigen::VectorXd::Constant(count, 6);
  readings.effective_sigma_db = readings.sigma_db;
  readings.spans = {{.zero = 0, .full = 1, .count = static_cast<double>(count)}};
  const auto fit = posterior_fit(readings, normal_prior(at, column({50, 50})));
  CHECK(fit.converged);
  CHECK(std::abs(fit.value[0] + 105) < 1.5);
  CHECK(std::abs(fit.value[1] + 55) < 1.5);
}

TEST_CASE("the spread that the readings show replaces what was given, the more the more they are") {
  const Noise noise(3);
  for (const Eigen::Index count : {20, 2000}) {
    Eigen::VectorXd read(count);
    for (Eigen::Index i = 0; i < count; ++i) read[i] = 3 * noise(i);
    const Eigen::VectorXd zero = column({0});
    const auto fit = posterior_fit(values(read, Eigen::MatrixXd::Ones(count, 1), 6, zero),
                                   normal_prior(zero, column({6})));
    CAPTURE(count);
    CHECK(fit.scale < 0.8);
    if (count == 2000) CHECK(std::abs(fit.scale - 0.5) < 0.02);
  }
}

TEST_CASE("sizes that disagree and deviations of 0 are refused") {
  const Eigen::VectorXd zero = column({0});
  auto readings = values(column({1}), Eigen::MatrixXd::Ones(1, 1), 1, zero);
  CHECK_THROWS_AS(posterior_fit(readings, normal_prior(zero, column({0}))), DomainError);
  readings.sigma_db[0] = 0;
  CHECK_THROWS_AS(posterior_fit(readings, normal_prior(zero, column({1}))), DomainError);
  readings = values(column({1}), Eigen::MatrixXd::Ones(1, 2), 1, column({0, 0}));
  CHECK_THROWS_AS(posterior_fit(readings, normal_prior(zero, column({1}))), DomainError);
}
