#pragma once

#include "linkmargin/report/words/wording.hpp"
#include "linkmargin/site/site.hpp"

#include <string>

namespace linkmargin {

/// "90 cm towards hall door": how far, and the nearest opening, hub or obstacle of the storey that lies that
/// way, a room where there is none, else a direction of the plan; with the room where that is another one.
std::string move_words(const Wording& wording, const Site& site, const Placement& from, const Placement& to);

/// What else is said of a hub or repeater that is moved: that it leaves the metal behind it. Empty where none
/// is, or where it stays before it.
std::string off_metal_words(const Wording& wording, const Site& site, const std::string& radio,
                            const Placement& to);

}  // namespace linkmargin
