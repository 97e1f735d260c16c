#pragma once

#include "linkmargin/site/site.hpp"

#include <cstddef>
#include <vector>

namespace linkmargin {

/// A short walk through some places: the nearest next, then stretches turned round where that shortens it
/// (2-opt). A way counts as its length on the plan, and what doors and stairs add to it, so that a room is
/// finished before the next, and a storey before the stairs, as far as `after` lets it be.
/// @param after  of each place those that come before it, as positions; without rings
/// @return positions in `places`
std::vector<std::size_t> walk_order(const Site& site, const Placement& start,
                                    const std::vector<Placement>& places,
                                    const std::vector<std::vector<std::size_t>>& after);

inline constexpr double kOtherRoomM = 5;     ///< through a door and round to the place (common practice)
inline constexpr double kOtherStoreyM = 30;  ///< to the stairs, up one storey, and on (common practice)

}  // namespace linkmargin
