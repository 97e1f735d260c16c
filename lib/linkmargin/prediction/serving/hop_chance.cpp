#include "linkmargin/prediction/serving/hop_chance.hpp"

#include "linkmargin/prediction/uncertainty/element_key.hpp"
#include "linkmargin/propagation/fading/shadowing_correlation.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <numeric>
#include <string>

namespace linkmargin {
namespace {

constexpr double kFarthestDeviations = 5;

/// Of two hops that share all they pass: what is left of each by itself keeps the sum smooth.
constexpr double kMostCorrelation = 0.99;

/// What walls, floors, leaves and obstacles bring, by what they are; and what the model brings.
struct Spreads {
  std::map<std::string, double> elements_db;
  double model_db2 = 0;
};

Spreads spreads_of(const LossBreakdown& loss) {
  Spreads found;
  ElementKeys keys;
  for (const LossItem& item : loss.items) {
    if (item.table_row.empty()) {
      found.model_db2 += item.sigma_db * item.sigma_db;
    } else if (item.sigma_db != 0) {
      found.elements_db[keys.next(item)] = item.sigma_db;
    }
  }
  return found;
}

}  // namespace

double hop_correlation(const ParameterSpread& spread, const HopEnds& a, const HopEnds& b) {
  const Spreads of_a = spreads_of(a.loss);
  const Spreads of_b = spreads_of(b.loss);
  double shared_db2 = std::sqrt(of_a.model_db2 * of_b.model_db2) *
                      shadowing_correlation(distance(a.from, b.from) + distance(a.to, b.to));
  double variance_a = of_a.model_db2;
  double variance_b = of_b.model_db2;
  for (const auto& [key, sigma_db] : of_a.elements_db) {
    variance_a += sigma_db * sigma_db;
    const auto same = of_b.elements_db.find(key);
    if (same != of_b.elements_db.end()) shared_db2 += sigma_db * same->second;
  }
  for (const auto& [key, sigma_db] : of_b.elements_db) variance_b += sigma_db * sigma_db;
  if (!spread.empty()) {
    const ParameterCauses causes(spread);
    const auto by_a = causes.of(a.loss, a.reading_share);
    const auto by_b = causes.of(b.loss, b.reading_share);
    shared_db2 += std::inner_product(by_a.begin(), by_a.end(), by_b.begin(), 0.0);
    variance_a += std::inner_product(by_a.begin(), by_a.end(), by_a.begin(), 0.0);
    variance_b += std::inner_product(by_b.begin(), by_b.end(), by_b.begin(), 0.0);
  }
  const double both = std::sqrt(variance_a * variance_b);
  return both > 0 ? std::clamp(shared_db2 / both, -kMostCorrelation, kMostCorrelation) : 0;
}

double joint_chance(double correlation, const HopChance& one, const HopChance& other) {
  const double common = std::sqrt(std::abs(correlation));
  const double own = std::sqrt(1 - std::abs(correlation));
  // The trapezoid rule, in steps that see what is left of each hop: exact far beyond what is asked.
  const double step = std::clamp(own / std::max(common, 1e-9), 0.1, 0.5);
  const int steps = static_cast<int>(std::ceil(kFarthestDeviations / step));
  double sum = 0;
  double weights = 0;
  for (int i = -steps; i <= steps; ++i) {
    const double deviations = i * step;
    const double weight = std::exp(-deviations * deviations / 2);
    const double of_other = correlation < 0 ? -deviations : deviations;
    weights += weight;
    sum += weight * one.chance(common * one.sigma_db * deviations, own * one.sigma_db) *
           other.chance(common * other.sigma_db * of_other, own * other.sigma_db);
  }
  return sum / weights;
}

}  // namespace linkmargin
