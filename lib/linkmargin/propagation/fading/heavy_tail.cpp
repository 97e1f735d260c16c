#include "linkmargin/propagation/fading/heavy_tail.hpp"

#include <boost/math/distributions/students_t.hpp>

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

/// Under this, a curvature is not trusted to set a step.
constexpr double kLeastWeight = 1e-6;

/// Of the log of the chance to lie above, by the prediction in deviations over the bound.
struct Slopes {
  double first = 0;   ///< > 0
  double second = 0;  ///< negative where the log is concave
};

Slopes above_slopes(double over_bound) {
  const boost::math::students_t law(kTailFreedom);
  const double chance = boost::math::cdf(law, over_bound);
  const double first = boost::math::pdf(law, over_bound) / chance;
  const double log_density_slope =
      -(kTailFreedom + 1) * over_bound / (kTailFreedom + over_bound * over_bound);
  return {first, first * (log_density_slope - first)};
}

/// Mean precision of the scale mixture, given that the value lies above its bound.
double mean_precision_above(double over_bound) {
  const boost::math::students_t law(kTailFreedom);
  const boost::math::students_t narrower(kTailFreedom + 2);
  const double scaled = over_bound * std::sqrt((kTailFreedom + 2) / kTailFreedom);
  return boost::math::cdf(narrower, scaled) / boost::math::cdf(law, over_bound);
}

/// By the trapezoid rule, which converges exponentially here.
template <typename Function>
double mean_over_normal(Function of) {
  constexpr double step = 0.01, end = 10;
  double sum = 0, all = 0;
  for (double x = -end; x <= end; x += step) {
    const double density = std::exp(-x * x / 2);
    sum += density * of(x);
    all += density;
  }
  return sum / all;
}

double cut_off(double deviations) {
  return std::clamp(deviations, kDeviations.min, kDeviations.max);  // NaN stays, and is refused
}

}  // namespace

HeavyTailTerm value_term(double deviations) {
  require_in(kDeviations, deviations);
  return {deviations, (kTailFreedom + 1) / (kTailFreedom + deviations * deviations)};
}

HeavyTailTerm lower_bound_term(double deviations) {
  require_in(kDeviations, deviations);
  const Slopes slopes = above_slopes(-deviations);
  // Newton's weight where the log likelihood is concave, quick and safe there; else the weight of the
  // mixture, whose steps never overshoot.
  const double mixture = mean_precision_above(-deviations);
  const double newton = -slopes.second;
  const double weight = std::max(newton > 0.1 * mixture ? newton : mixture, kLeastWeight);
  return {slopes.first / weight, weight};
}

double lower_bound_information(double deviations) {
  require_in(kDeviations, deviations);
  return std::max(0.0, -above_slopes(-deviations).second);
}

HeavyTailTerm heavy_tail_term(ReadingKind kind, double deviations) {
  const double cut = cut_off(deviations);
  if (kind == ReadingKind::exact) return value_term(cut);
  if (kind == ReadingKind::at_least) return lower_bound_term(cut);
  const HeavyTailTerm mirrored = lower_bound_term(-cut);
  return {-mirrored.pull, mirrored.weight};
}

double heavy_tail_information(ReadingKind kind, double deviations) {
  const double cut = cut_off(deviations);
  if (kind == ReadingKind::exact) return value_term(cut).weight;
  return lower_bound_information(kind == ReadingKind::at_least ? cut : -cut);
}

double mean_weighted_square() {
  static const double mean = mean_over_normal([](double x) { return value_term(x).weight * x * x; });
  return mean;
}

double robust_scale(std::span<const double> deviations, double share) {
  const auto square = [](double x) { return 2 * x * x / (1 + x * x); };
  static const double normal = mean_over_normal(square);
  double low = 1e-6, high = 1e6;
  while (high / low > 1 + 1e-12) {
    const double middle = std::sqrt(low * high);
    double sum = 0;
    for (const double x : deviations) sum += square(cut_off(x) / middle);
    (sum / static_cast<double>(deviations.size()) > normal * share ? low : high) = middle;
  }
  return low;
}

}  // namespace linkmargin
