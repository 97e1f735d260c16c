#pragma once

#include "linkmargin/analysis/placement/model/placement_places.hpp"

// Inside analysis/ only.
namespace linkmargin {

/// How much memory places take, with the chances of everything at each of them and what a search makes of
/// these: from the areas where radios may go, before any place is looked at. Walls and obstacles are not
/// taken off. Linear in 1 / step_m^2; radios that stay or turn take next to nothing. Accuracy: for the best
/// choice alone 1.4 to 1.7 times what a process was measured to take (0.6 to 4.5 million places, 3 to 40
/// devices, one and two hubs). Rows of chances between repeaters and hubs come on top, up to
/// PlacementHops::kMostRowBytes.
double placement_bytes(const Site& site, const std::vector<PlacedRadio>& radios, double step_m, int threads);

}  // namespace linkmargin
