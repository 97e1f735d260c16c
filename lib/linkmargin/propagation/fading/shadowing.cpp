#include "linkmargin/propagation/fading/shadowing.hpp"

#include "linkmargin/base/constants.hpp"

#include <boost/math/special_functions/erf.hpp>

#include <limits>
#include <numbers>

namespace linkmargin {
namespace {

constexpr Range kRealLine{-kInfinity, kInfinity, "x", "any number"};

/// Tiny chances become 0 instead of an exception.
using NoUnderflow =
    boost::math::policies::policy<boost::math::policies::underflow_error<boost::math::policies::ignore_error>,
                                  boost::math::policies::denorm_error<boost::math::policies::ignore_error>,
                                  boost::math::policies::promote_double<false>>;

}  // namespace

double normal_cdf(double x) {
  require_in(kRealLine, x);
  return boost::math::erfc(-x / std::numbers::sqrt2, NoUnderflow{}) / 2;
}

double normal_quantile(double chance) {
  require_in(kChance, chance);
  return -std::numbers::sqrt2 * boost::math::erfc_inv(2 * chance, NoUnderflow{});
}

double chance_of_reaching(double median, double threshold, double sigma_db) {
  require_in(kShadowedLevelDb, median);
  require_in(kShadowedLevelDb, threshold);
  require_in(kShadowingSigmaDb, sigma_db);
  const double over_db = median - threshold;
  if (sigma_db == 0) return over_db >= 0 ? 1 : 0;
  return normal_cdf(over_db / sigma_db);
}

double log_normal_margin_db(double chance, double sigma_db) {
  require_in(kShadowingSigmaDb, sigma_db);
  return normal_quantile(chance) * sigma_db;
}

}  // namespace linkmargin
