#pragma once

#include "linkmargin/analysis/placement/solver/placement_problem.hpp"

#include <cstdint>
#include <functional>
#include <vector>

// Inside analysis/ only: the greatest least chance, with repeaters taken to reach their hub and slots to be
// without number.
namespace linkmargin {

/// Whether parts can be put so that every item has a chance of at least a level.
struct Cover {
  enum class Answer { yes, no, unknown };
  Answer answer = Answer::unknown;
  std::vector<PlacementPart> parts;  ///< one way, where yes
};

/// By branching on the item with the fewest places, places that serve less than another left out.
/// @param counts of each group, at most its own
/// @param nodes  after so many branchings it gives up; what is not used is left in it
Cover cover_at(const PlacementProblem& problem, const std::vector<int>& counts, float level,
               std::int64_t& nodes);

/// The levels between which the greatest least chance lies.
struct CoverBound {
  float at_most = 1;  ///< proved: no layout has more of a least chance that counts
  std::vector<std::vector<PlacementPart>> covers;  ///< ways found, the highest level last
};

/// By halving the sorted levels. @param at_least a level known to be reached. @param stop true ends it with
/// what it has
CoverBound cover_bound(const PlacementProblem& problem, const std::vector<int>& counts, float at_least,
                       std::int64_t nodes, const std::function<bool()>& stop = {});

}  // namespace linkmargin
