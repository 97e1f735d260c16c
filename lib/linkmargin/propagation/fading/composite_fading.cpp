#include "linkmargin/propagation/fading/composite_fading.hpp"

#include "linkmargin/propagation/fading/fading.hpp"
#include "linkmargin/propagation/fading/shadowing.hpp"

#include <boost/math/tools/toms748_solve.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <tuple>

namespace linkmargin {
namespace {

constexpr double kLowestChance = 2e-8;
constexpr double kWidestStepDb = 0.9;       // half the step of the sum over the fade
constexpr double kStepPerDeviation = 0.22;  // the same against the fade's deviation
constexpr double kBracketDb = 2;            // about the guess of a quantile
constexpr double kSigmaPerStep = 2.6;       // from which the sum over the fade is taken

/// Nodes and weights over a standard normal variable: the trapezoid rule from -5.6 to 5.6.
constexpr int kNodesASide = 8;
constexpr double kScoreStep = 0.7;

struct NormalNode {
  double score;
  double weight;
};

const std::array<NormalNode, 2 * kNodesASide + 1>& normal_nodes() {
  static const auto made = [] {
    std::array<NormalNode, 2 * kNodesASide + 1> nodes;
    double sum = 0;
    for (int index = -kNodesASide; index <= kNodesASide; ++index) {
      const double score = kScoreStep * index;
      const double weight = std::exp(-score * score / 2);
      nodes[static_cast<std::size_t>(index + kNodesASide)] = {score, weight};
      sum += weight;
    }
    for (auto& node : nodes) node.weight /= sum;
    return nodes;
  }();
  return made;
}

/// The normal law by cubics through values and slopes, for sums of very many: within 3e-10 of normal_cdf().
class NormalTable {
 public:
  NormalTable() {
    for (std::size_t i = 0; i < nodes_.size(); ++i) {
      const double score = kReach * (2.0 * static_cast<double>(i) / (kSize - 1) - 1);
      nodes_[i] = {normal_cdf(score),
                   std::exp(-score * score / 2) / std::sqrt(2 * std::numbers::pi) / kPerScore};
    }
  }

  double operator()(double score) const {
    const double place = (score + kReach) * kPerScore;
    if (!(place > 0)) return 0;
    if (place >= kSize - 1) return 1;
    const auto index = static_cast<std::size_t>(place);
    const Node& a = nodes_[index];
    const Node& b = nodes_[index + 1];
    const double t = place - static_cast<double>(index);
    const double rise = b.chance - a.chance;
    return a.chance +
           t * (a.slope + t * (3 * rise - 2 * a.slope - b.slope + t * (a.slope + b.slope - 2 * rise)));
  }

 private:
  static constexpr double kReach = 8;  // beyond, 6e-16 is left
  static constexpr double kPerScore = 64;
  static constexpr int kSize = static_cast<int>(2 * kReach * kPerScore) + 1;
  struct Node {
    double chance;
    double slope;  // per step
  };
  std::array<Node, kSize> nodes_;
};

const NormalTable& normal_table() {
  static const NormalTable made;
  return made;
}

}  // namespace

CompositeFading::CompositeFading(double k_db)
    : k_db_(k_db),
      mean_db_(rician_mean_db(k_db)),
      deviation_db_(rician_deviation_db(k_db)),
      step_db_(std::min(kWidestStepDb, kStepPerDeviation * deviation_db_)) {
  const double k = rician_k_ratio(k_db);
  const double lowest_db = rician_quantile_db(k_db, kLowestChance);
  for (double level_db = lowest_db;; level_db += step_db_) {
    const double h = step_db_ / 100;
    const double density = std::exp(rician_log_density(k, level_db));
    const double slope =
        (std::exp(rician_log_density(k, level_db + h)) - std::exp(rician_log_density(k, level_db - h))) /
        (2 * h);
    nodes_.push_back({level_db, rician_cdf(k_db, level_db), density, slope});
    if (nodes_.back().cdf >= 1 - 1e-12 && nodes_.size() % 2 == 1) break;
  }
  double sum = 0;
  for (std::size_t index = 0; index < nodes_.size(); index += 2) {
    weights_.push_back(2 * step_db_ * nodes_[index].density / (index == 0 ? 2 : 1));
    if (index == 0) weights_.back() += kLowestChance;
    sum += weights_.back();
  }
  for (double& weight : weights_) weight /= sum;
}

double CompositeFading::fade_cdf(double level_db) const {
  const Node& first = nodes_.front();
  // power law of the deep tail: the chance is proportional to the power
  if (level_db <= first.level_db) return first.cdf * std::pow(10, (level_db - first.level_db) / 10);
  const double place = (level_db - first.level_db) / step_db_;
  if (place >= static_cast<double>(nodes_.size() - 1)) return 1;
  const auto index = static_cast<std::size_t>(place);
  const Node& a = nodes_[index];
  const Node& b = nodes_[index + 1];
  // Hermite's polynomial of degree five through value, slope and curvature at both ends
  const double t = place - static_cast<double>(index);
  const double rise = b.cdf - a.cdf;
  const double va = a.density * step_db_, vb = b.density * step_db_;
  const double ca = a.slope * step_db_ * step_db_ / 2, cb = b.slope * step_db_ * step_db_ / 2;
  const double p = rise - va - ca;
  const double q = vb - va - 2 * ca;
  const double r = 2 * (cb - ca);
  const double c3 = 10 * p - 4 * q + r / 2;
  const double c4 = -15 * p + 7 * q - r;
  const double c5 = 6 * p - 3 * q + r / 2;
  return a.cdf + t * (va + t * (ca + t * (c3 + t * (c4 + t * c5))));
}

double CompositeFading::over_fade(double level_db, double sigma_db) const {
  double sum = 0;
  const double scale = 1 / sigma_db;
  const NormalTable& normal = normal_table();
  for (std::size_t index = 0; index < weights_.size(); ++index)
    sum += weights_[index] * normal((level_db - nodes_[2 * index].level_db) * scale);
  return sum;
}

double CompositeFading::over_mean(double level_db, double sigma_db) const {
  double sum = 0;
  for (const auto& [score, weight] : normal_nodes()) sum += weight * fade_cdf(level_db - sigma_db * score);
  return sum;
}

double CompositeFading::cdf(double level_db, double sigma_db) const {
  require_in(kFadeLevelDb, level_db);
  require_in(kLocalMeanSigmaDb, sigma_db);
  if (sigma_db == 0) return std::clamp(fade_cdf(level_db), 0.0, 1.0);
  const bool wide = sigma_db >= kSigmaPerStep * step_db_;
  return std::clamp(wide ? over_fade(level_db, sigma_db) : over_mean(level_db, sigma_db), 0.0, 1.0);
}

double CompositeFading::quantile_db(double chance, double sigma_db) const {
  require_in(kChance, chance);
  require_in(kLocalMeanSigmaDb, sigma_db);
  const auto over = [&](double level_db) { return cdf(level_db, sigma_db) - chance; };
  const double least_db = -170 - 10 * sigma_db, most_db = 20 + 10 * sigma_db;
  // Near where a normal law of the same mean and deviation has it: there it mostly lies within the first
  // step.
  const double guess_db =
      std::clamp(mean_db_ + std::hypot(sigma_db, deviation_db_) * normal_quantile(chance), least_db, most_db);
  double low_db = guess_db, high_db = guess_db;
  double low = over(guess_db), high = low;
  for (double step_db = kBracketDb; low > 0 && low_db > least_db; step_db *= 3) {
    high_db = low_db;
    high = low;
    low_db = std::max(least_db, low_db - step_db);
    low = over(low_db);
  }
  for (double step_db = kBracketDb; high < 0 && high_db < most_db; step_db *= 3) {
    low_db = high_db;
    low = high;
    high_db = std::min(most_db, high_db + step_db);
    high = over(high_db);
  }
  if (low >= 0) return low_db;
  if (high <= 0) return high_db;
  std::uintmax_t steps = 200;
  const auto close = [](double one, double other) { return other - one <= 1e-9; };
  std::tie(low_db, high_db) =
      boost::math::tools::toms748_solve(over, low_db, high_db, low, high, close, steps);
  return (low_db + high_db) / 2;
}

}  // namespace linkmargin
