#include "linkmargin/analysis/placement/solver/placement_relaxed.hpp"

#include <algorithm>

namespace linkmargin {

bool may_serve(const PlacementProblem& problem, std::uint32_t group, std::size_t item) {
  const auto& hub = problem.items[item].hub;
  return problem.groups[group].repeater || !hub || *hub == group;
}

RelaxedChances::RelaxedChances(const PlacementProblem& problem, const std::vector<PlacementPart>& parts)
    : of_item(problem.items.size(), -1) {
  for (const PlacementPart part : parts) take(problem, part);
}

void RelaxedChances::take(const PlacementProblem& problem, PlacementPart part) {
  for (std::size_t i = 0; i < of_item.size(); ++i) {
    if (may_serve(problem, part.group, i)) of_item[i] = std::max(of_item[i], problem.chance(i, part));
  }
}

RelaxedLastPart::RelaxedLastPart(const PlacementProblem& problem, const RelaxedChances& others,
                                 std::uint32_t group)
    : worst_(problem.groups[group].places, problem.target_probability),
      sum_(problem.groups[group].places, 0) {
  for (std::size_t i = 0; i < problem.items.size(); ++i) {
    const float have = others.of_item[i];
    const float* row = &problem.groups[group].chances[i * worst_.size()];
    const bool may = may_serve(problem, group, i);
    for (std::size_t p = 0; p < worst_.size(); ++p) {
      const float value = may ? std::max(have, row[p]) : have;
      worst_[p] = std::min(worst_[p], value);
      sum_[p] += static_cast<double>(value);
    }
  }
}

}  // namespace linkmargin
