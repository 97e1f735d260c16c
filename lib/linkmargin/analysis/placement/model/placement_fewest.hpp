#pragma once

#include "linkmargin/analysis/placement/model/placement.hpp"

namespace linkmargin {

/// With how few hubs and repeaters every device and area reaches a chance: placement() of one part, then of
/// two and so on, up to the numbers of the options; of as many parts fewer hubs first. What is fixed is
/// always among them, and so is a hub that something is enrolled with.
/// @param options  hubs and repeaters are the most there may be; `enough` is not read
/// @param chance   0..1, kPlacementEnough
/// @return the answer for these parts, or where none are enough for the fewest that come as near as
/// any (to half a chance in 100), with PlacementAnswer::fewest
/// @throws DomainError as placement() does
PlacementAnswer fewest_parts(const Site& site, PlacementOptions options, double chance);

}  // namespace linkmargin
