#pragma once

#include "linkmargin/prediction/serving/device_link.hpp"
#include "linkmargin/report/words/wording.hpp"

#include <string>

// Why a link loses what it loses, in sentences. Not installed.
namespace linkmargin {

/// What costs less than this is not worth a word.
inline constexpr double kSmallDb = 0.5;

/// From this angle from the perpendicular on, the signal is said to meet a wall at a grazing angle (common
/// practice).
inline constexpr double kObliqueDeg = 60;

/// What a wall, leaf, slab or obstacle is called, with what it is made of.
std::string thing_words(const Wording& wording, const LossItem& item);

/// Where the strongest path bends, from the device: "hall door and end of yard wall"; empty where it is
/// straight.
std::string bends_words(const Wording& wording, const LossBreakdown& loss);

/// What its mounting, metal behind it and a body beside it cost the direction that counts.
double device_mount_db(const Link& link);

/// How far the device is from its hub, what is in the way, what its mounting costs and what reflections bring
/// back.
std::string cause_words(const Wording& wording, const Site& site, const Link& link);

}  // namespace linkmargin
