#include "linkmargin/analysis/placement/solver/placement_bound.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

/// Over what a sum of floats loses to rounding.
constexpr double kBoundRounding = 1e-4;

/// One group's chances, place by place, those under the level taken out.
struct GroupGains {
  std::size_t places = 0;
  int count = 0;
  std::vector<float> chances;  // [place * items + item], under 0 where it does not count
};

std::vector<GroupGains> gains_of(const PlacementProblem& problem, const std::vector<int>& counts,
                                 float at_least) {
  std::vector<GroupGains> groups;
  for (std::uint32_t g = 0; g < problem.groups.size(); ++g) {
    if (counts[g] == 0) continue;
    GroupGains gains{problem.groups[g].places, counts[g], {}};
    for (std::uint32_t p = 0; p < gains.places; ++p) {
      for (std::size_t i = 0; i < problem.items.size(); ++i) {
        const auto& hub = problem.items[i].hub;
        const float chance = problem.chance(i, {g, p});
        const bool counts_here = chance >= at_least && (problem.groups[g].repeater || !hub || *hub == g);
        gains.chances.push_back(counts_here ? chance : -1);
      }
    }
    groups.push_back(std::move(gains));
  }
  return groups;
}

}  // namespace

double sum_bound(const PlacementProblem& problem, const std::vector<int>& counts, float at_least,
                 double target, int rounds) {
  const std::size_t items = problem.items.size();
  const std::vector<GroupGains> groups = gains_of(problem, counts, at_least);
  std::vector<double> price(items, 1);
  std::vector<float> price_f(items);
  double bound = static_cast<double>(items);
  double pace = 1;
  int without_gain = 0;
  std::vector<std::pair<double, std::size_t>> worth;
  for (int round = 0; round < rounds; ++round) {
    double value = 0;
    for (std::size_t i = 0; i < items; ++i) {
      price_f[i] = static_cast<float>(price[i]);
      value += static_cast<double>(price_f[i]);
    }
    std::vector<int> served(items, 0);
    for (const GroupGains& group : groups) {
      worth.clear();
      for (std::size_t p = 0; p < group.places; ++p) {
        const float* chances = &group.chances[p * items];
        float sum = 0;
        for (std::size_t i = 0; i < items; ++i) sum += std::max(0.0F, chances[i] - price_f[i]);
        worth.emplace_back(-static_cast<double>(sum) * (1 + kBoundRounding), p);
      }
      // Two parts at one place serve no more than one does there: of a relaxed optimum all places are
      // distinct.
      const auto few = std::min<std::size_t>(static_cast<std::size_t>(group.count), worth.size());
      std::partial_sort(worth.begin(), worth.begin() + static_cast<std::ptrdiff_t>(few), worth.end());
      for (std::size_t k = 0; k < few; ++k) {
        value -= worth[k].first;
        const float* chances = &group.chances[worth[k].second * items];
        for (std::size_t i = 0; i < items; ++i) served[i] += chances[i] > price_f[i] ? 1 : 0;
      }
    }
    if (value < bound - 1e-9) {
      bound = value;
      without_gain = 0;
    } else if (++without_gain >= 15) {
      pace /= 2;
      without_gain = 0;
    }
    double norm = 0;
    for (const int times : served) norm += (1 - times) * (1 - times);
    if (norm == 0 || pace < 1e-4) break;
    const double step = pace * std::max(value - target, 1e-6) / norm;
    for (std::size_t i = 0; i < items; ++i) price[i] = std::max(0.0, price[i] - step * (1 - served[i]));
  }
  return bound;
}

}  // namespace linkmargin
