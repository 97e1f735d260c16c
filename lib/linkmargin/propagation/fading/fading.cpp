#include "linkmargin/propagation/fading/fading.hpp"

#include "linkmargin/base/constants.hpp"
#include "linkmargin/base/units.hpp"
#include "linkmargin/propagation/fading/shadowing.hpp"

#include <boost/math/distributions/non_central_chi_squared.hpp>
#include <boost/math/quadrature/gauss.hpp>
#include <boost/math/special_functions/bessel.hpp>
#include <boost/math/special_functions/digamma.hpp>
#include <boost/math/special_functions/expint.hpp>
#include <boost/math/special_functions/gamma.hpp>
#include <boost/math/special_functions/trigamma.hpp>
#include <boost/math/tools/toms748_solve.hpp>

#include <algorithm>
#include <cmath>
#include <vector>

namespace linkmargin {
namespace {

using boost::math::policies::ignore_error;
/// Chances too small for a double become 0 instead of an exception.
using Quiet = boost::math::policies::policy<
    boost::math::policies::underflow_error<ignore_error>, boost::math::policies::denorm_error<ignore_error>,
    boost::math::policies::promote_double<false>, boost::math::policies::max_series_iterations<10'000'000>>;

constexpr double kLargestK = 1e6;
/// This many diffuse amplitudes off, a chance is 0 or 1 within exp(-6.5^2) = 4e-19.
constexpr double kNothing = 6.5;

double power_of(double level_db) {
  return std::exp(level_db / kDbPerNeper);
}

/// Mean of (a2 t^2 / (1 + a2 t^2))^2 for t from 0 to 1.
double mean_square_share(double a2) {
  if (a2 < 0.04) return a2 * a2 * (1.0 / 5 - a2 * (2.0 / 7 - a2 * (3.0 / 9 - a2 * (4.0 / 11 - a2 * 5 / 13))));
  const double a = std::sqrt(a2);
  return 1 - 1.5 * std::atan(a) / a + 0.5 / (1 + a2);
}

double calculated_k_db(double k) {
  const double share2 = boost::math::quadrature::gauss<double, 15>::integrate(
      [k](double c) { return mean_square_share(4.5 * k * (1 - c * c)); }, 0.0, 1.0);
  const double share = std::sqrt(share2);
  return 10 * std::log10(share / (1 - share));
}

/// Chance in units of the diffuse amplitude: steady root K, whole root (1 + K) p.
double cdf_of_ratio(double k, double power) {
  const double whole = std::sqrt((1 + k) * power);
  const double steady = std::sqrt(k);
  if (whole - steady > kNothing) return 1;
  if (steady - whole > kNothing) return 0;
  const double x = 2 * whole * whole;
  if (k == 0) return -std::expm1(-x / 2);
  if (x < 1e-14) return x / 2 * std::exp(-k);  // first term of the series
  const boost::math::non_central_chi_squared_distribution<double, Quiet> distribution(2, 2 * k);
  return std::clamp(boost::math::cdf(distribution, x), 0.0, 1.0);
}

}  // namespace

double log_scaled_bessel_i0(double x) {
  if (x < 500) return std::log(boost::math::cyl_bessel_i(0, x, Quiet{})) - x;
  const double y = 1 / (8 * x);  // Abramowitz and Stegun 9.7.1
  return std::log1p(y * (1 + y * (4.5 + y * 37.5))) - std::log(2 * kPi * x) / 2;
}

double rician_k_ratio(double k_db) {
  require_in(kRicianKDb, k_db);
  return std::min(std::pow(10, k_db / 10), kLargestK);
}

double rician_cdf(double k_db, double level_db) {
  const double k = rician_k_ratio(k_db);
  require_in(kFadeLevelDb, level_db);
  return cdf_of_ratio(k, power_of(level_db));
}

double rician_log_density(double k, double level_db) {
  const double log_scaled = std::log1p(k) + level_db / kDbPerNeper;  // of (1 + K) p
  const double whole = std::exp(log_scaled / 2);
  const double steady = std::sqrt(k);
  const double apart = whole - steady;
  return log_scaled - std::log(kDbPerNeper) - apart * apart + log_scaled_bessel_i0(2 * whole * steady);
}

double rician_density_per_db(double k_db, double level_db) {
  const double k = rician_k_ratio(k_db);
  require_in(kFadeLevelDb, level_db);
  return std::exp(rician_log_density(k, level_db));
}

double rician_quantile_db(double k_db, double chance) {
  const double k = rician_k_ratio(k_db);
  require_in(kChance, chance);
  if (k == 0) return kDbPerNeper * std::log(-std::log1p(-chance));
  // below the quantile of each part alone and above what both can reach together
  double low_db = -200;
  double high_db = 20;
  const auto over = [&](double level_db) { return cdf_of_ratio(k, power_of(level_db)) - chance; };
  while (over(low_db) >= 0) low_db -= 200;
  std::uintmax_t steps = 200;
  const auto close = [](double low, double high) { return high - low <= 1e-10; };
  const auto [low, high] = boost::math::tools::toms748_solve(over, low_db, high_db, close, steps);
  return (low + high) / 2;
}

double rician_mean_db(double k_db) {
  const double k = rician_k_ratio(k_db);
  if (k == 0) return -kDbPerNeper * boost::math::constants::euler<double>();
  return kDbPerNeper * (std::log(k) - std::log1p(k) + boost::math::expint(1, k, Quiet{}));
}

double rician_deviation_db(double k_db) {
  const double k = rician_k_ratio(k_db);
  // Far from 0 the logarithm 2 Re ln(1 + z), z complex normal of power 1 / K, has variance 2 sum m! / (m^2
  // K^m)
  if (k > 1e3) return kDbPerNeper * std::sqrt((2 + (1 + 4 / (3 * k)) / k) / k);
  // Given n of a Poisson number with mean K, the power is a gamma variable of shape n + 1; its logarithm has
  // mean digamma(n + 1) and variance trigamma(n + 1).
  const double reach = 10 * std::sqrt(k) + 30;
  const double first = std::max(0.0, std::floor(k - reach));
  double sum = 0, mean = 0, square = 0;
  for (double n = first; n <= k + reach; ++n) {
    const double weight =
        n == 0 ? std::exp(-k) : std::exp(n * std::log(k) - k - boost::math::lgamma(n + 1, Quiet{}));
    const double log_mean = boost::math::digamma(n + 1);
    sum += weight;
    mean += weight * log_mean;
    square += weight * (log_mean * log_mean + boost::math::trigamma(n + 1));
    if (k == 0) break;
  }
  mean /= sum;
  return kDbPerNeper * std::sqrt(square / sum - mean * mean);
}

double unknown_orientation_k_db(double steady_over_scattered) {
  if (!(steady_over_scattered >= 0)) throw DomainError("a ratio of powers is not negative");
  // Nearly straight over decibels: linear between values a quarter of one apart is within 0.001 dB.
  constexpr double lowest_db = -25, highest_db = 20, per_db = 4;
  constexpr int steps = static_cast<int>((highest_db - lowest_db) * per_db);
  static const std::vector<double> values = [] {
    std::vector<double> made;
    for (int i = 0; i <= steps; ++i)
      made.push_back(calculated_k_db(std::pow(10, (lowest_db + i / per_db) / 10)));
    return made;
  }();
  const double db = std::clamp(10 * std::log10(steady_over_scattered), lowest_db, highest_db);
  const double place = (db - lowest_db) * per_db;
  const auto step = std::min(static_cast<std::size_t>(place), values.size() - 2);
  const double share = place - static_cast<double>(step);
  return std::max(kLeastUnturnedKDb, values[step] + share * (values[step + 1] - values[step]));
}

}  // namespace linkmargin
