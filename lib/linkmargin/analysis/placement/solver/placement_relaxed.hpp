#pragma once

#include "linkmargin/analysis/placement/solver/placement_problem.hpp"

#include <cstdint>
#include <vector>

// Inside analysis/ only: what parts do where repeaters are taken to reach their hub and slots to be without
// number. Nothing can be better.
namespace linkmargin {

/// Whether a group's part may serve an item at all.
bool may_serve(const PlacementProblem& problem, std::uint32_t group, std::size_t item);

/// What items have by some parts.
struct RelaxedChances {
  std::vector<float> of_item;

  RelaxedChances(const PlacementProblem& problem, const std::vector<PlacementPart>& parts);
  void take(const PlacementProblem& problem, PlacementPart part);
};

/// The least, as it counts, and the sum that items would have.
struct RelaxedOutcome {
  float worst;  ///< begins as PlacementProblem::enough
  double sum = 0;

  void take(float chance) {
    worst = chance < worst ? chance : worst;
    sum += static_cast<double>(chance);
  }

  /// Whether a layout of such figures would be better: of two as good the first found stays.
  bool beats(const PlacementLayout& best) const {
    return worst > best.worst || (worst == best.worst && sum > best.sum);
  }
};

/// Some parts and one more of a group, at each of its places.
class RelaxedLastPart {
 public:
  RelaxedLastPart(const PlacementProblem& problem, const RelaxedChances& others, std::uint32_t group);

  RelaxedOutcome at(std::size_t place) const { return {worst_[place], sum_[place]}; }
  std::size_t size() const { return worst_.size(); }

 private:
  std::vector<float> worst_;
  std::vector<double> sum_;
};

}  // namespace linkmargin
