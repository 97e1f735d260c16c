#pragma once

#include "linkmargin/analysis/coverage/coverage.hpp"
#include "linkmargin/report/words/wording.hpp"

#include <string>

// Inside report/ only: how a map's values are said and scaled.
namespace linkmargin {

std::string value_word(CoverageValue value);  ///< as on the command line: "reading"
std::string value_unit(CoverageValue value);  ///< "%", "dBm", "dB"

/// "Predicted reading"
std::string value_phrase(const Wording& wording, const CoverageMap& map, CoverageValue value);

/// "40", the reading under which a cell is weak.
std::string threshold_text(const Wording& wording, const CoverageMap& map);

/// A share in whole percent, without its unit; "<1" and ">99" of what is not all or nothing.
std::string share_text(const Wording& wording, double percent);

/// How many readings the map follows; nothing where there are none.
std::string nearby_phrase(const Wording& wording, const CoverageMap& map, CoverageValue value);

/// "best of the hubs a and b"; "hub: a" of a map of one.
std::string hubs_phrase(const Wording& wording, const CoverageMap& map);

/// Where a map reads the same all over because the scale ends there: so much, in words. Empty otherwise.
std::string scale_hint(const Wording& wording, const CoverageMap& map, CoverageValue value);

/// What the ends of the palette stand for.
struct ValueScale {
  double weak = 0;    ///< shown darkest; greater than `strong` for a loss
  double strong = 1;  ///< shown lightest

  double share(double value) const { return (value - weak) / (strong - weak); }
};

/// Readings and chances from 0 to 100 %, levels from the reading's zero to its full; margins from 0, losses
/// between the tens about the map's own.
ValueScale value_scale(const CoverageMap& map, CoverageValue value);

/// Where on that scale the threshold lies: the reading under which a cell is weak, or its level; of chances
/// 90 %. Of margins and losses, which have none, where a reading's usually lies.
double threshold_share(const CoverageMap& map, CoverageValue value);
inline constexpr double kGoodChancePercent = 90;

/// The same as value_at; NaN where the loss is not finite.
double known_value(const CoverageMap& map, std::size_t cell, CoverageValue value);

/// The same, a chance in percent.
double shown_value(const CoverageMap& map, std::size_t cell, CoverageValue value);

}  // namespace linkmargin
