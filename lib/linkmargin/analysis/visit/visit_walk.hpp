#pragma once

#include "linkmargin/site/site.hpp"

#include <cstddef>
#include <vector>

namespace linkmargin {

/// An order in which to walk to some places: storey by storey, that of the start first, then those above it
/// and those below it, the nearer first; on a storey a short way on the plan (nearest neighbour, then 2-opt),
/// from the start or from where the storey before it was left. Two places in different rooms count as
/// kOtherRoomM farther apart, so that a room is finished before the next.
/// @return positions in `places`
std::vector<std::size_t> walk_order(const Site& site, const Placement& start,
                                    const std::vector<Placement>& places);

inline constexpr double kOtherRoomM = 5;  ///< through a door and round to the place (common practice)

}  // namespace linkmargin
