#pragma once

#include "linkmargin/site/mounting/mounting_places.hpp"

#include <algorithm>
#include <cstddef>
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
template <typename Place>
std::vector<Place> thinned(const std::vector<Place>& places, std::size_t most) {
  const std::size_t stride = std::max<std::size_t>(1, (places.size() + most - 1) / most);
  std::vector<Place> kept;
  for (std::size_t i = 0; i < places.size(); i += stride) kept.push_back(places[i]);
  return kept;
}

}  // namespace linkmargin
