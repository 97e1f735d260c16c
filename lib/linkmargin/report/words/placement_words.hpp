#pragma once

#include "linkmargin/analysis/placement/model/placement.hpp"

#include <string>
#include <vector>

// Inside report/ only: what is said of places.
namespace linkmargin {

/// "(4.3, 0.15) in 'shop', storey 'ground', 2 m up"
std::string spot_words(const Site& site, const Placement& place);

/// A hub or repeater with where it goes, from where, and what it serves.
std::string placed_words(const Site& site, const ChosenPart& part);

/// "'clay shed contact', about 52 %, with a chance of 71 in 100"
std::string worst_words(const PlacementAnswer& answer, const PlacementChoice& choice);

/// "none is weak", "3 are weak"
std::string weak_words(int count);

std::string present_words(const PlacementAnswer& answer);
std::string flatness_words(const Site& site, const PlacementAnswer& answer);
std::string middle_words(const Site& site, const PlacementAnswer& answer);
std::string price_words(const PlacementAnswer& answer, const CountTradeoff& price);

/// What holds wherever something is placed.
const std::vector<std::string>& placement_advice();

/// What the reader of this answer should know.
std::vector<std::string> placement_warnings(const Site& site, const PlacementAnswer& answer);

}  // namespace linkmargin
