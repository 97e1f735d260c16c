#include "linkmargin/propagation/fading/fade_posterior.hpp"

#include "linkmargin/base/constants.hpp"
#include "linkmargin/base/units.hpp"
#include "linkmargin/propagation/fading/fading.hpp"

#include <boost/math/quadrature/gauss.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace linkmargin {
namespace {

using Node = FadePosterior::Node;

constexpr Range kSigmaOverZeroDb{1e-3, kLocalMeanSigmaDb.max, "sigma_db", "bounds of this library"};
constexpr double kStepPerWidth = 0.3;  // of the trapezoid rule, against the narrower of the two spreads
constexpr double kSpread = 8;          // deviations of the local mean that are looked at
constexpr double kDeepestDb = 80;      // chance of a deeper fade: 1e-8
constexpr double kHighestDb = 20;      // of a stronger one: 0
constexpr double kNegligible = 23;     // nodes under exp(-23) = 1e-10 of the largest are left out
constexpr double kPanelWidth = 1.5;    // of the levels on one side of a bound, against both spreads together

struct Spread {
  double k;
  double sigma_db;
  double fade_db;     ///< deviation of the fade
  bool fades = true;  ///< else all is shadow

  /// Between nodes; 0 where an exact reading has one alone.
  double step_db() const {
    if (sigma_db == 0 || !fades) return 0;
    return kStepPerWidth / std::sqrt(1 / (sigma_db * sigma_db) + 1 / (fade_db * fade_db));
  }
};

/// Nodes for one exact reading, their chances exp(log chance) not yet adding up to 1.
struct Reading {
  std::vector<Node> nodes;
  double log_density;  ///< of that reading, ln per dB
};

/// Where the fade may lie: the local mean pulls no further than its slope meets that of the fade's density,
/// which is 1 per neper in the deep tail and at most 1 + K / 4 above it.
std::pair<double, double> fade_range_db(const Spread& spread, double reading_db) {
  const double pull_db = spread.sigma_db * spread.sigma_db / kDbPerNeper;
  const double reach_db = kSpread * spread.sigma_db;
  return {std::min(reading_db, 0.0) - pull_db - reach_db,
          std::min(kHighestDb, reading_db + pull_db * (1 + spread.k / 4) + reach_db)};
}

Reading read_exactly(const Spread& spread, double reading_db) {
  if (spread.sigma_db == 0) return {{{0, reading_db, 1}}, rician_log_density(spread.k, reading_db)};
  const double log_scale = std::log(spread.sigma_db * std::sqrt(2 * kPi));
  if (!spread.fades) {
    const double score = reading_db / spread.sigma_db;
    return {{{reading_db, 0, 1}}, -score * score / 2 - log_scale};
  }
  const double step_db = spread.step_db();
  const auto [low_db, high_db] = fade_range_db(spread, reading_db);
  Reading result;
  double largest = -kInfinity;
  for (double fade_db = low_db; fade_db <= high_db; fade_db += step_db) {
    const double shadow_db = reading_db - fade_db;
    const double score = shadow_db / spread.sigma_db;
    const double log_chance = rician_log_density(spread.k, fade_db) - score * score / 2;
    largest = std::max(largest, log_chance);
    if (log_chance > largest - kNegligible) result.nodes.push_back({shadow_db, fade_db, log_chance});
  }
  std::erase_if(result.nodes, [&](const Node& node) { return node.chance <= largest - kNegligible; });
  double sum = 0;
  for (Node& node : result.nodes) sum += node.chance = std::exp(node.chance - largest);
  for (Node& node : result.nodes) node.chance /= sum;
  result.log_density = largest + std::log(sum * step_db) - log_scale;
  return result;
}

/// All levels beyond a bound, panel by panel away from it, each panel by Gauss's rule.
std::vector<Node> read_bound(const Spread& spread, double bound_db, double direction) {
  using Gauss = boost::math::quadrature::gauss<double, 7>;
  const double reach_db = kSpread * spread.sigma_db;
  const double start_db =
      direction < 0 ? std::min(bound_db, reach_db + kHighestDb) : std::max(bound_db, -reach_db - kDeepestDb);
  const double half_db = kPanelWidth / 2 * std::hypot(spread.sigma_db, spread.fade_db);
  std::vector<Node> nodes;
  double scale = -kInfinity, total = 0, before = 0;
  for (double middle_db = start_db + direction * half_db;; middle_db += 2 * direction * half_db) {
    double panel = 0;
    const auto add = [&](double level_db, double weight) {
      const Reading reading = read_exactly(spread, level_db);
      if (scale == -kInfinity) scale = reading.log_density;
      const double chance = weight * std::exp(std::min(reading.log_density - scale, 600.0));
      panel += chance;
      for (const Node& node : reading.nodes)
        nodes.push_back({node.shadow_db, node.fade_db, node.chance * chance});
    };
    for (std::size_t index = 0; index < Gauss::abscissa().size(); ++index) {
      const double offset_db = half_db * Gauss::abscissa()[index];
      add(middle_db + offset_db, Gauss::weights()[index]);
      if (offset_db > 0) add(middle_db - offset_db, Gauss::weights()[index]);
    }
    total += panel;
    if (panel <= before && panel < 1e-8 * total) break;
    before = panel;
  }
  for (Node& node : nodes) node.chance /= total;
  std::erase_if(nodes, [](const Node& node) { return node.chance < 1e-12; });
  return nodes;
}

template <typename Value>
FadePosterior::Moments moments(const std::vector<Node>& nodes, Value value) {
  double sum = 0, mean = 0, square = 0;
  for (const Node& node : nodes) {
    sum += node.chance;
    mean += node.chance * value(node);
  }
  mean /= sum;
  for (const Node& node : nodes) square += node.chance * (value(node) - mean) * (value(node) - mean);
  return {mean, std::sqrt(square / sum)};
}

}  // namespace

FadePosterior::FadePosterior(double k_db, double sigma_db, double reading_db, ReadingKind kind) {
  const Spread spread{rician_k_ratio(k_db), sigma_db, rician_deviation_db(k_db), k_db != kInfinity};
  require_in(kLocalMeanSigmaDb, sigma_db);
  require_in(kReadingDb, reading_db);
  nodes_ = kind == ReadingKind::exact ? read_exactly(spread, reading_db).nodes
                                      : read_bound(spread, reading_db, kind == ReadingKind::at_most ? -1 : 1);
  step_db_ = spread.step_db();
  shadow_ = moments(nodes_, [](const Node& node) { return node.shadow_db; });
  fade_ = moments(nodes_, [](const Node& node) { return node.fade_db; });
}

double FadePosterior::shadow_reaches(double level_db) const {
  double sum = 0;
  for (const Node& node : nodes_) {
    const double over_db = node.shadow_db - level_db;
    const double share =
        step_db_ == 0 ? (over_db >= 0 ? 1 : 0) : std::clamp(0.5 + over_db / step_db_, 0.0, 1.0);
    sum += node.chance * share;
  }
  return std::min(sum, 1.0);
}

double shadow_density_per_db(double k_db, double sigma_db, double reading_db, double shadow_db) {
  const Spread spread{rician_k_ratio(k_db), sigma_db, rician_deviation_db(k_db)};
  require_in(kSigmaOverZeroDb, sigma_db);
  require_in(kReadingDb, reading_db);
  require_in(kFadeLevelDb, shadow_db);
  const double score = shadow_db / sigma_db;
  const double log_both = rician_log_density(spread.k, reading_db - shadow_db) - score * score / 2 -
                          std::log(sigma_db * std::sqrt(2 * kPi));
  return std::exp(log_both - read_exactly(spread, reading_db).log_density);
}

}  // namespace linkmargin
