#pragma once

#include "linkmargin/analysis/placement/model/placement.hpp"
#include "linkmargin/messages/language.hpp"
#include "linkmargin/report/words/wording.hpp"

#include <string>
#include <vector>

// Inside report/ only: what is said of places.
namespace linkmargin {

/// "doors closed"; of a case of edits "steel street door (doors closed)".
std::string case_words(const Wording& wording, const HeldCase& held);

/// "doors closed and doors open": all that a choice holds in.
std::string held_words(const Wording& wording, const PlacementAnswer& answer);

/// Whether a hub or repeater is where it was.
bool stays(const ChosenPart& part);

/// What the best places would bring where moving is not worth it.
std::string little_gain_words(const Wording& wording, const Site& site, const PlacementAnswer& answer);

/// Where a hub or repeater goes, as a sentence.
std::string move_words(const Wording& wording, const Site& site, const ChosenPart& part);

/// What a hub or repeater serves, and its slots.
std::string load_words(const Wording& wording, const ChosenPart& part);

/// "The weakest device is then clay shed contact: about 44 %, chance 56 in 100."
std::string weakest_words(const Wording& wording, const PlacementAnswer& answer,
                          const PlacementChoice& choice);

/// The same of what is there now.
std::string today_words(const Wording& wording, const PlacementAnswer& answer);

/// The first choice against what is there now.
std::string better_words(const Wording& wording, const PlacementAnswer& answer);

/// Whether a device reads enough, but not surely.
bool is_doubtful(const ChosenService& service);

/// What is weak, and what is doubtful.
std::string standing_words(const Wording& wording, const PlacementChoice& choice);

/// "1 hub and 2 repeaters"
std::string parts_words(const Wording& wording, int hubs, int repeaters);

std::string exact_words(const Wording& wording, const Site& site, const PlacementAnswer& answer);
std::string middle_words(const Wording& wording, const Site& site, const PlacementAnswer& answer);
std::string tradeoff_words(const Wording& wording, const PlacementAnswer& answer,
                           const CountTradeoff& tradeoff);

/// What to do before something is fixed.
std::vector<std::string> placement_advice(const Wording& wording);

/// What the reader of this answer should know.
std::vector<Warning> placement_warnings(const Site& site, const PlacementAnswer& answer);

}  // namespace linkmargin
