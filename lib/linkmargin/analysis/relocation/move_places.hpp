#pragma once

#include "linkmargin/site/mounting/mounting_places.hpp"

#include <vector>

namespace linkmargin {

/// The places that a radio may be moved to, where it can hang (MountingPlaces::find()), the nearest to its
/// own first; its own is not among them.
/// @param step_m  between places, at least; of more than kMostMovePlaces every so manyth is kept
/// @return empty for a radio that stays
std::vector<Placement> move_places(const MountingPlaces& mounting, const MountingRequest& request,
                                   double step_m);

inline constexpr std::size_t kMostMovePlaces = 400;

/// Of more than `most` places every so manyth, in their order.
std::vector<Placement> thinned(const std::vector<Placement>& places, std::size_t most);

}  // namespace linkmargin
