#pragma once

#include "linkmargin/site/site.hpp"

#include <optional>

namespace linkmargin {

/// How far a radio may go at most: infinity within a room, nothing for one that stays.
std::optional<double> reach_m(const std::optional<Mobility>& mobility);

/// Whether a device may go to a place, as people typed both: within kReachSlackM. One without `may_move` may:
/// whoever read it there knew.
bool reaches(const Site& site, const Device& device, const Placement& place);
inline constexpr double kReachSlackM = 0.05;

}  // namespace linkmargin
