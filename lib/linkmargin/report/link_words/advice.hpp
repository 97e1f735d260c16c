#pragma once

#include "linkmargin/analysis/survey/reading_verdict.hpp"
#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/report/document/rounding.hpp"
#include "linkmargin/report/words/wording.hpp"

#include <string>
#include <vector>

namespace linkmargin {

/// Up to this much under the threshold, a better spot within a hand's breadth may be enough: the best of a
/// few spots a quarter wave apart is commonly some decibels over their mean (common practice).
inline constexpr double kShiftDb = 6;

/// From this angle from the perpendicular on, the signal is said to meet a wall at a grazing angle (common
/// practice).
inline constexpr double kObliqueDeg = 60;

/// A radio that may move no further than this moves by centimetres: it finds a better spot, not another
/// place.
inline constexpr double kCentimetresM = 0.3;

/// What to do about one link.
struct Advice {
  std::vector<std::string> steps;  ///< in the order to try them; none where nothing needs to be done
  std::vector<std::string> notes;  ///< what cannot be done and why, or that nothing needs to be done
};

/// Steps in this order: the mounting or a body, another hub, a shift, another place, a repeater on site, the
/// hub, and only then something bought. Nothing that the site file does not let move is to be moved.
/// @param read  what was read on site counts instead of the prediction, and its own words say what a shift
/// can do;
///              null: nothing was read
Advice advice(const Wording& wording, const Site& site, const LinkTable& table, const Link& link,
              const ReadingAnswer* read = nullptr);

}  // namespace linkmargin
