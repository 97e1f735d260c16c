#include "linkmargin/propagation/fading/best_spot.hpp"

#include "linkmargin/base/constants.hpp"
#include "linkmargin/base/units.hpp"
#include "linkmargin/propagation/fading/fading.hpp"
#include "linkmargin/propagation/fading/shadowing.hpp"

#include <boost/math/special_functions/bessel.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <span>

namespace linkmargin {
namespace {

using namespace best_spot_table;

constexpr Range kPresentDb{-kInfinity, kSpotLevelDb.max, "present_db", "bounds of this library"};

/// Four neighbouring nodes and what each counts: Lagrange's cubic polynomial.
struct Cubic {
  std::size_t first;
  std::array<double, 4> weights;
};

/// @param nodes  rising or falling, at least four; x between the outer ones
template <std::size_t size>
Cubic cubic(const std::array<double, size>& nodes, double x) {
  const bool rising = nodes[0] < nodes[1];
  std::size_t above = 1;
  while (above + 1 < size && (rising ? nodes[above] < x : nodes[above] > x)) ++above;
  Cubic result{std::clamp<std::size_t>(above, 2, size - 2) - 2, {1, 1, 1, 1}};
  for (std::size_t i = 0; i < 4; ++i) {
    for (std::size_t j = 0; j < 4; ++j) {
      if (i == j) continue;
      const double other = nodes[result.first + j];
      result.weights[i] *= (x - other) / (nodes[result.first + i] - other);
    }
  }
  return result;
}

/// The present amplitudes with the second before the first as its negative: turning the field round changes
/// nothing, so the quantiles are even in it.
constexpr auto kMirrored = [] {
  std::array<double, kPresent.size() + 1> nodes{-kPresent[1]};
  std::ranges::copy(kPresent, nodes.begin() + 1);
  return nodes;
}();

/// Amplitude of the steady wave.
double steady(double diffuse) {
  return std::sqrt(1 - diffuse * diffuse);
}

/// Slope at the middle of three points of a rising curve, so that a cubic through them rises (Fritsch,
/// Butland, SIAM Journal on Scientific and Statistical Computing 5, 1984): weighted harmonic mean of the
/// slopes beside.
double slope_between(double before, double after, double width_before, double width_after) {
  if (!(before > 0) || !(after > 0)) return 0;
  const double w1 = 2 * width_after + width_before, w2 = width_after + 2 * width_before;
  return (w1 + w2) / (w1 / before + w2 / after);
}

/// Normal score of the amplitude x between two quantiles: a rising cubic.
double score_between(std::span<const double> quantiles, std::size_t below, double x) {
  const auto width = [&](std::size_t i) { return std::max(quantiles[i + 1] - quantiles[i], 1e-12); };
  const auto slope = [&](std::size_t i) { return (kScores[i + 1] - kScores[i]) / width(i); };
  const std::size_t last = kScores.size() - 2;
  const double steep = slope(below);
  const double left =
      below == 0 ? steep : slope_between(slope(below - 1), steep, width(below - 1), width(below));
  const double right =
      below == last ? steep : slope_between(steep, slope(below + 1), width(below), width(below + 1));
  const double h = width(below);
  const double t = (x - quantiles[below]) / h;
  const double rise = kScores[below + 1] - kScores[below];
  return kScores[below] +
         t * (h * left + t * ((3 * rise - h * (2 * left + right)) + t * (h * (left + right) - 2 * rise)));
}

}  // namespace

double field_correlation(Scattering scattering, double r_over_lambda) {
  require_in(kSpotRadius, r_over_lambda);
  const double x = 2 * kPi * r_over_lambda;
  if (scattering == Scattering::plane) return boost::math::cyl_bessel_j(0, x);
  return x == 0 ? 1 : std::sin(x) / x;
}

BestSpot::BestSpot(SpotShape shape, Scattering scattering, double k_db, double r_over_lambda)
    : shape_(shape) {
  require_in(kSpotRadius, r_over_lambda);
  const double k = rician_k_ratio(k_db);
  const double share = 1 / std::sqrt(1 + k);
  scale_ = std::max(1.0, kDiffuse.back() / share);
  shift_ = scale_ > 1 ? steady(kDiffuse.back()) - scale_ * steady(share) : 0;
  const Cubic radius = cubic(kRadii, std::min(r_over_lambda, kRadii.back()));
  const Cubic diffuse = cubic(kDiffuse, std::max(share, kDiffuse.back()));
  std::array<float, kPresentEntries * kScores.size()> sums{};
  for (std::size_t i = 0; i < 4; ++i) {
    for (std::size_t j = 0; j < 4; ++j) {
      const auto weight = static_cast<float>(radius.weights[i] * diffuse.weights[j]);
      const float* entry =
          &amplitudes()[place(static_cast<std::size_t>(scattering), static_cast<std::size_t>(shape),
                              radius.first + i, diffuse.first + j, 0)];
      for (std::size_t index = 0; index < sums.size(); ++index) sums[index] += weight * entry[index];
    }
  }
  for (std::size_t index = 0; index < sums.size(); ++index)
    at_present_[index / kScores.size()][index % kScores.size()] = static_cast<double>(sums[index]);
}

double BestSpot::tabled(double level_db) const {
  return std::max(0.0, std::pow(10, level_db / 20) * scale_ + shift_);
}

BestSpot::Distribution BestSpot::distribution(std::optional<double> present_db) const {
  Distribution result{at_present_.back(), 0};
  if (present_db) {
    const double present = std::min(tabled(*present_db), kPresent.back());
    const Cubic nodes = cubic(kMirrored, present);
    result.quantiles = {};
    for (std::size_t i = 0; i < 4; ++i) {
      const std::size_t node = nodes.first + i == 0 ? 1 : nodes.first + i - 1;
      for (std::size_t score = 0; score < kScores.size(); ++score)
        result.quantiles[score] += nodes.weights[i] * at_present_[node][score];
    }
    if (shape_ == SpotShape::line || shape_ == SpotShape::disc) result.floor = present;
  }
  double at_least = result.floor;  // interpolation must not turn the order round
  for (double& quantile : result.quantiles) at_least = quantile = std::max(quantile, at_least);
  return result;
}

double BestSpot::reaches(std::optional<double> present_db, double needed_db) const {
  require_in(kSpotLevelDb, needed_db);
  if (present_db) require_in(kPresentDb, *present_db);
  if (shape_ != SpotShape::step && present_db && *present_db >= needed_db) return 1;  // one may stay
  const Distribution best = distribution(present_db);
  const double needed = tabled(needed_db);
  if (needed <= best.floor) return 1;
  const auto above = std::upper_bound(best.quantiles.begin(), best.quantiles.end(), needed);
  if (above == best.quantiles.begin()) {
    const double share = (needed - best.floor) / (best.quantiles.front() - best.floor);
    return 1 - normal_cdf(kScores.front()) * share * share;
  }
  const auto below = static_cast<std::size_t>(above - best.quantiles.begin()) - 1;
  if (above != best.quantiles.end()) return normal_cdf(-score_between(best.quantiles, below, needed));
  const double slope = (kScores[below] - kScores[below - 1]) /
                       std::max(best.quantiles[below] - best.quantiles[below - 1], 1e-12);
  return normal_cdf(-kScores[below] - slope * (needed - best.quantiles[below]));
}

double BestSpot::quantile_db(std::optional<double> present_db, double chance) const {
  require_in(kChance, chance);
  double low_db = -200, high_db = 40;
  while (high_db - low_db > 1e-7) {
    const double middle_db = (low_db + high_db) / 2;
    (1 - reaches(present_db, middle_db) < chance ? low_db : high_db) = middle_db;
  }
  return (low_db + high_db) / 2;
}

double best_spot_reaches(SpotShape shape, Scattering scattering, double k_db, double r_over_lambda,
                         std::optional<double> present_db, double needed_db) {
  return BestSpot(shape, scattering, k_db, r_over_lambda).reaches(present_db, needed_db);
}

}  // namespace linkmargin
