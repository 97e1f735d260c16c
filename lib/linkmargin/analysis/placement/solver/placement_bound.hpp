#pragma once

#include "linkmargin/analysis/placement/solver/placement_problem.hpp"

// Inside analysis/ only.
namespace linkmargin {

/// No layout whose least chance is at_least or more has a greater sum of chances: Lagrangian relaxation of
/// "every item is served once" (Geoffrion, Mathematical Programming Study 2, 1974, from memory), multipliers
/// by subgradients. Repeaters are taken to reach their hub, slots to be without number.
/// @param target a sum that was found, which sets the steps
/// @param rounds of subgradients
double sum_bound(const PlacementProblem& problem, const std::vector<int>& counts, float at_least,
                 double target, int rounds);

}  // namespace linkmargin
