#pragma once

#include "linkmargin/site/site.hpp"

#include <functional>
#include <string>
#include <vector>

namespace linkmargin {

/// A row this far from the nearest of its group gets a caution, or one and a half of its own spreads away
/// where that is more (common practice).
inline constexpr double kFarNeighbourDb = 6;

/// What to ask oneself of the materials of a site that lose far more or less than others of their group,
/// which look alike: whether the right row was picked. Of walls, floors, leaves and glazing; a thing in the
/// way is like no other. A material that the site gives itself is in no group.
/// @param counts  whether a material is asked about
std::vector<Warning> neighbour_warnings(const Site& site,
                                        const std::function<bool(const std::string&)>& counts);

}  // namespace linkmargin
