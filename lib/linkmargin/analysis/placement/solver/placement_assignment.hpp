#pragma once

#include "linkmargin/analysis/placement/solver/placement_problem.hpp"

#include <vector>

namespace linkmargin {

/// Chooses, for parts at given places, who is served by whom: slots kept, the weakest hop counting, each
/// repeater with one hub. Exact.
class PlacementAssignment {
 public:
  /// @param problem outlives this
  explicit PlacementAssignment(const PlacementProblem& problem) : problem_(problem) {}

  /// The best that parts can do. A repeater that then serves nobody is left out.
  /// @param parts hubs and repeaters in any order, at least one hub
  /// @param at_least  what is worse need not be found
  /// @return a layout that does not exist where slots do not suffice, or where all are worse than `at_least`
  PlacementLayout best(const std::vector<PlacementPart>& parts, float at_least = 0) const;

  /// How many slots are short when everything is on these hubs, whatever the chances.
  int missing_slots(const std::vector<PlacementPart>& hubs) const;

 private:
  const PlacementProblem& problem_;
};

}  // namespace linkmargin
