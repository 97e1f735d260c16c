#pragma once

#include "linkmargin/link/building/distance_law.hpp"
#include "linkmargin/site/environment.hpp"
#include "linkmargin/site/warning.hpp"

#include <vector>

namespace linkmargin {

/// Exponent of the `walls` model where the site gives none: free space, since the walls are itemised.
inline constexpr double kWallsExponent = 2.0;

/// Spread of a model that itemises walls, where the site gives none. Source: Seidel and Rappaport 1992, 914
/// MHz, walls and floors counted at each site: 4 dB in the best areas, 5.8 dB over all (read in the
/// abstract). The lower one, for the walls' own spreads come on top.
inline constexpr double kItemisedSigmaDb =
    4.0;  ///< doubled, halved: no loss moves, the chance by 0.08, 0.05 at most

/// Spread of the free-space model used indoors, where the site gives none: middle of the 8 to 10 dB that
/// published comparisons find without site calibration (docs/methods/fading.md).
inline constexpr double kUncountedSigmaDb = 9.0;

/// The part of a path loss that depends on the distance alone, and what the model does with walls and floors.
struct DistanceTerm {
  double loss_db = 0;
  double sigma_db = 0;
  DistanceLaw law;
  bool itemises = false;         ///< walls, openings and obstacles are added one by one
  std::vector<double> floor_db;  ///< for each floor crossed: what the model makes it cost; empty: nothing
  bool floors_spread = true;     ///< the slabs' own spreads count; false where the model's spread covers them
  std::vector<Warning> warnings;
};

/// @param distance_m  >= 0; counted as at least kNearestM
/// @param floors_db   own losses of the floors crossed, in order
/// @param line_of_sight    nothing at all is crossed
/// @throws DomainError when the environment is none of the model's
DistanceTerm distance_term(const PropagationSettings& radio, double distance_m,
                           const std::vector<double>& floors_db, bool line_of_sight);

}  // namespace linkmargin
