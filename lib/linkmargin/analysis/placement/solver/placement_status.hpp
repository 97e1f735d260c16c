#pragma once

namespace linkmargin {

/// How a search for places ended.
enum class PlacementStatus {
  optimal,     ///< proved: no layout of these places is better
  bounded,     ///< the best found when the work set aside for it was done, with a bound
  infeasible,  ///< slots or places are missing
  stopped,     ///< the best found when it was told to stop
};

/// More hubs and repeaters than these are not placed.
inline constexpr int kMostPlacedHubs = 4;
inline constexpr int kMostPlacedRepeaters = 3;

}  // namespace linkmargin
