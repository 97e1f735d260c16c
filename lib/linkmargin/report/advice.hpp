#pragma once

#include "linkmargin/analysis/link_table.hpp"

#include <string>
#include <vector>

namespace linkmargin {

/// Up to this much under the threshold, a better spot within a hand's breadth may be enough: the best of a
/// few spots a quarter wave apart is commonly some decibels over their mean (common practice).
inline constexpr double kShiftDb = 6;

/// A link whose reading is enough, but reaches the threshold on site with less than this chance, is close.
inline constexpr double kSureProbability = 0.9;

/// From this angle from the perpendicular on, the way through a wall is said to be oblique (common practice).
inline constexpr double kObliqueDeg = 60;

/// What would help first, in the order to try: a shift, another place, the hub, and only then something
/// bought. For a sure link, one sentence that nothing needs moving.
std::vector<std::string> advice(const Site& site, const LinkTable& table, const Link& link);

}  // namespace linkmargin
