#pragma once

#include "linkmargin/analysis/placement_places.hpp"

// Inside analysis/ only.
namespace linkmargin {

/// How much memory places take, with the chances of everything at each of them and what a search makes of these: from
/// the areas where radios may go, before any place is looked at. Walls and obstacles are not taken off, so that it is
/// rather too much. Linear in 1 / step_m^2, but for radios that stay or turn, which take next to nothing.
/// Accuracy: measured, 0.7 to 1.1 of what a process takes on sites of 1500 to 180 000 m2.
double placement_bytes(const Site& site, const std::vector<PlacedRadio>& radios, double step_m, int threads);

}  // namespace linkmargin
