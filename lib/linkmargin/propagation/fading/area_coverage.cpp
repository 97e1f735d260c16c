#include "linkmargin/propagation/fading/area_coverage.hpp"

#include "linkmargin/propagation/fading/shadowing.hpp"

#include <boost/math/tools/toms748_solve.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace linkmargin {
namespace {

/// exp(z^2) erfc(z) where z is large: its asymptotic series, for erfc itself would be 0 and the factor
/// infinite.
double scaled_erfc(double z) {
  if (z < 26) return std::exp(z * z) * std::erfc(z);
  const double y = 1 / (2 * z * z);
  return (1 - y * (1 - 3 * y * (1 - 5 * y * (1 - 7 * y)))) * std::numbers::inv_sqrtpi / z;
}

}  // namespace

double area_coverage(double edge_chance, double exponent, double sigma_db) {
  require_in(kChance, edge_chance);
  require_in(kCoverageExponent, exponent);
  require_in(kCoverageSigmaDb, sigma_db);
  const double a = -normal_quantile(edge_chance) / std::numbers::sqrt2;
  const double b = 10 * exponent * std::numbers::log10e / (sigma_db * std::numbers::sqrt2);
  const double z = 1 / b - a;
  // exp((1 - 2ab) / b^2) = exp(z^2 - a^2)
  const double second = z > 0 ? std::exp(-a * a) * scaled_erfc(z) : std::exp(z * z - a * a) * std::erfc(z);
  return std::clamp((std::erfc(a) + second) / 2, edge_chance, 1.0);
}

double edge_chance_of_coverage(double share, double exponent, double sigma_db) {
  require_in(kChance, share);
  const Range possible{area_coverage(kChance.min, exponent, sigma_db),
                       area_coverage(kChance.max, exponent, sigma_db), "share",
                       "what edge chances of 1e-12 and 1 - 1e-12 give"};
  require_in(possible, share);
  const auto over = [&](double chance) { return area_coverage(chance, exponent, sigma_db) - share; };
  std::uintmax_t steps = 200;
  const auto close = [](double low, double high) { return high - low <= 1e-13 * high; };
  const auto [low, high] = boost::math::tools::toms748_solve(over, kChance.min, share, close, steps);
  return (low + high) / 2;
}

}  // namespace linkmargin
