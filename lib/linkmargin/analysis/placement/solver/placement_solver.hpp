#pragma once

#include "linkmargin/analysis/placement/solver/placement_problem.hpp"
#include "linkmargin/analysis/placement/solver/placement_status.hpp"
#include "linkmargin/base/progress.hpp"

#include <functional>
#include <vector>

namespace linkmargin {

struct PlacementSolverOptions {
  /// How much is looked at before the search ends with what it has: places weighed for one item each. The
  /// same on every machine; 10^9 take some two seconds.
  std::int64_t work = 6'000'000'000;
  std::function<bool()> stop{};  ///< asked now and then: true ends the search with what it has; may be empty
};

/// The answer of a search.
struct PlacementSolution {
  PlacementStatus status = PlacementStatus::infeasible;
  PlacementLayout best;
  float worst_bound = 1;  ///< no layout has a greater least chance, as far as that counts
  double sum_bound =
      0;  ///< nor, with this least chance, a greater sum; counts where best.worst is worst_bound
  int missing_slots = 0;  ///< where infeasible
};

/// The best layout: the greatest least chance, up to what is enough, then the greatest sum, then the fewest
/// parts.
///
/// First the least chance is bounded from above by covers (placement_cover.hpp) and layouts are made of them
/// and bettered part by part; then all layouts are searched by branch and bound: on the item that the fewest
/// places serve, the last part by intersecting sets of places, until nothing better is left or the work is
/// done. Where it is not finished, the sum is bounded by Lagrangian relaxation (placement_bound.hpp). Ties
/// between places go to the first found, in an order that depends on the problem alone.
/// @throws DomainError when there are more hubs or repeaters than kMostPlacedHubs and kMostPlacedRepeaters
PlacementSolution solve_placement(const PlacementProblem& problem,
                                  const PlacementSolverOptions& options = {});

/// Whether a layout of those parts counts; empty: every one.
using LayoutFilter = std::function<bool(const std::vector<PlacementPart>&)>;

/// The best that one part can do with the others where they are.
/// @param floor what is not better than this is not looked for; it is given back then
PlacementLayout moved_part(const PlacementProblem& problem, const std::vector<PlacementPart>& parts,
                           std::size_t part, PlacementLayout floor, const LayoutFilter& may = {});

/// Moves one part at a time until no move betters the layout.
PlacementLayout bettered_placement(const PlacementProblem& problem, PlacementLayout layout,
                                   const LayoutFilter& may = {});

}  // namespace linkmargin
