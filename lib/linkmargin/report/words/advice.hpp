#pragma once

#include "linkmargin/messages/language.hpp"
#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/analysis/survey/reading_verdict.hpp"
#include "linkmargin/report/document/rounding.hpp"

#include <string>
#include <vector>

namespace linkmargin {

/// Up to this much under the threshold, a better spot within a hand's breadth may be enough: the best of a
/// few spots a quarter wave apart is commonly some decibels over their mean (common practice).
inline constexpr double kShiftDb = 6;

/// From this angle from the perpendicular on, the way through a wall is said to be oblique (common practice).
inline constexpr double kObliqueDeg = 60;

/// From this on, what a place by itself costs is looked at before anything else (common practice).
inline constexpr double kBigMountDb = 4;

/// A radio that may move no further than this moves by centimetres: it finds a better spot, not another
/// place.
inline constexpr double kCentimetresM = 0.3;

/// What the mounting, metal or a body at the device costs, where that is much.
std::vector<std::string> mounting_advice(const Site& site, const Link& link);

/// What would help first, in the order to try: what the mounting or a body costs, another hub, a shift,
/// another place, the hub, and only then something bought. Nothing that the site file does not let move is
/// told to. For a sure link, one sentence that nothing needs moving.
/// @param read  what was read on site counts instead of the prediction, and its own words say what a shift
/// can
///              do; null: nothing was read
std::vector<std::string> advice(const Language& language, const Site& site, const LinkTable& table, const Link& link,
                                const ReadingAnswer* read = nullptr);

}  // namespace linkmargin
