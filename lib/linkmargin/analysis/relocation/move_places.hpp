#pragma once

#include "linkmargin/link/mechanism/scene.hpp"
#include "linkmargin/site/radio.hpp"
#include "linkmargin/site/site.hpp"

#include <vector>

namespace linkmargin {

/// The places that a radio may be moved to by its `may_move`, the nearest to its own first; its own is not
/// among them. Height and storey stay.
///
/// - `radius_m`: a grid in the disc, without the places that a wall or obstacle at the radio's height parts
///   from its own, in its room and no nearer to the edge than it is, or kWallClearanceM.
/// - `along_m`: spots along the line; where it does not begin at the radio's place, that place is no part of
///   it.
/// - `within`, `within_m`: a grid in the room or between the corners, kWallClearanceM off the edges.
///
/// @param step_m  between spots, at least; more where there would be over kMostMovePlaces
/// @return empty for a radio that stays
std::vector<Point2> move_places(const Scene& scene, const Site& site, const Placement& place,
                                const std::optional<Mobility>& may_move, double step_m);

inline constexpr std::size_t kMostMovePlaces = 400;

/// How near to the edge of a room a place is proposed: what a housing takes (common practice).
inline constexpr double kWallClearanceM = 0.1;

}  // namespace linkmargin
