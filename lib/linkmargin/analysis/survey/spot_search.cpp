#include "linkmargin/analysis/survey/spot_search.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/propagation/fading/fading.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

/// A present spot that there may be.
struct Present {
  double shadow_db;
  std::optional<double> fade_db;  ///< none: not known
  double chance;
};

/// The local mean before any reading: trapezoid rule over 6 deviations either way, error under 1e-8.
std::vector<Present> prior(double sigma_db) {
  constexpr int steps = 24;
  constexpr double step = 6.0 / steps;
  if (sigma_db == 0) return {{0, {}, 1}};
  std::vector<Present> nodes;
  double sum = 0;
  for (int index = -steps; index <= steps; ++index) {
    const double score = index * step;
    nodes.push_back({score * sigma_db, {}, std::exp(-score * score / 2)});
    sum += nodes.back().chance;
  }
  for (Present& node : nodes) node.chance /= sum;
  return nodes;
}

std::vector<Present> presents(const Link& link, const FadePosterior* after) {
  if (after == nullptr) return prior(std::min(link.sigma_db, kLocalMeanSigmaDb.max));
  std::vector<Present> nodes;
  for (const FadePosterior::Node& node : after->nodes())
    nodes.push_back({node.shadow_db, node.fade_db, node.chance});
  return nodes;
}

std::vector<double> distances_m(double wavelength_m, double reach_m) {
  std::vector<double> distances;
  constexpr int parts = 2;
  for (int part = 1; part <= parts; ++part) {
    const double distance_m = kFarthestWavelengths * wavelength_m * part / parts;
    if (distance_m <= reach_m) distances.push_back(distance_m);
  }
  const double last_m = distances.empty() ? 0 : distances.back();
  const double farthest_m = std::min(reach_m, kFarthestWavelengths * wavelength_m);
  if (farthest_m > last_m * (1 + 1e-9)) distances.push_back(farthest_m);
  return distances;
}

int spots_of(SpotShape shape, double r_over_lambda) {
  if (shape == SpotShape::four) return 5;
  const int rings = static_cast<int>(std::ceil(r_over_lambda / kSpotStepWavelengths - 1e-9));
  return shape == SpotShape::line ? 1 + 2 * rings : 1 + 3 * rings * (rings + 1);
}

/// Chance that the best of the spots passes.
class Chances {
 public:
  Chances(const FadingModel& fading_model, const Link& link, double needed_db, const FadePosterior* after)
      : scattering_(fading_model.scattering()),
        k_db_(fading_model.k_db(link.loss)),
        needed_db_(needed_db),
        nodes_(presents(link, after)) {
    if (k_db_ != std::numeric_limits<double>::infinity()) return;
    always_ = 0;  // no spot differs from another
    if (after == nullptr)
      always_ = fading_model.chance(Dbm{0}, Dbm{needed_db}, link.sigma_db, k_db_);
    else
      for (const Present& node : nodes_) *always_ += node.shadow_db >= needed_db ? node.chance : 0;
  }

  double at(SpotShape shape, double r_over_lambda) const {
    if (always_) return std::min(1.0, *always_);
    const BestSpot best(shape, scattering_, k_db_, r_over_lambda);
    double sum = 0;
    for (const Present& node : nodes_) {
      const double over_mean_db = std::clamp(needed_db_ - node.shadow_db, kSpotLevelDb.min, kSpotLevelDb.max);
      sum += node.chance * best.reaches(node.fade_db, over_mean_db);
    }
    return std::min(1.0, sum);
  }

  /// The better of two ways to turn it.
  double turned() const {
    if (always_) return std::min(1.0, *always_);
    double sum = 0;
    for (const Present& node : nodes_) {
      const double over_mean_db = std::clamp(needed_db_ - node.shadow_db, kFadeLevelDb.min, kFadeLevelDb.max);
      const double missed = rician_cdf(k_db_, over_mean_db);
      const double present_missed = node.fade_db ? (*node.fade_db < over_mean_db ? 1 : 0) : missed;
      sum += node.chance * (1 - present_missed * missed);
    }
    return std::min(1.0, sum);
  }

 private:
  Scattering scattering_;
  double k_db_;
  double needed_db_;
  std::vector<Present> nodes_;
  std::optional<double> always_;  ///< the same for all ways to try
};

}  // namespace

double way_probability(const Link& link, double own) {
  if (!link.onward) return own;
  const double was = link.own_probability;
  if (own <= was) return was > 0 ? own * link.pass_probability / was : 0;
  return link.pass_probability +
         (own - was) / (1 - was) * (link.onward->pass_probability - link.pass_probability);
}

double SpotTrial::step_m() const {
  if (shape == SpotShape::line && spots > 2) return distance_m / ((spots - 1) / 2);
  if (shape != SpotShape::disc) return distance_m;
  int rings = 0;
  for (int inside = 1; inside < spots; inside += 6 * rings) ++rings;
  return rings > 0 ? distance_m / rings : distance_m;
}

SpotSearch spot_search(const FadingModel& fading_model, const ReadingScale& scale, double frequency_hz,
                       const Link& link, const FadePosterior* after, const SpotSearchOptions& options) {
  const Chances chances(fading_model, link, link.shortfall(scale).value, after);
  const double lambda_m = wavelength_m(frequency_hz);
  const std::vector<SpotShape> shapes =
      options.along_line ? std::vector{SpotShape::line} : std::vector{SpotShape::four, SpotShape::disc};
  SpotSearch result;
  if (options.may_turn)
    result.trials.push_back({.distance_m = 0,
                             .spots = 2,
                             .pass_probability = way_probability(link, chances.turned()),
                             .setting = options.setting,
                             .turned = true});
  for (const SpotShape shape : shapes) {
    for (const double distance_m : distances_m(lambda_m, options.reach_m)) {
      const double r_over_lambda = distance_m / lambda_m;
      result.trials.push_back({shape, distance_m, spots_of(shape, r_over_lambda),
                               way_probability(link, chances.at(shape, r_over_lambda)), options.setting});
    }
  }
  const SpotTrial* chosen = nullptr;
  for (const SpotTrial& trial : result.trials) {
    if (trial.spots > options.most_spots) continue;
    if (chosen == nullptr || trial.pass_probability > chosen->pass_probability) chosen = &trial;
    if (chosen->pass_probability >= options.asked_chance) break;
  }
  if (chosen != nullptr) result.recommended = static_cast<std::size_t>(chosen - result.trials.data());
  return result;
}

}  // namespace linkmargin
