#pragma once

#include "linkmargin/messages/language.hpp"
#include "linkmargin/report/document/document.hpp"
#include "linkmargin/report/words/wording.hpp"
#include "linkmargin/site/warning.hpp"

#include <initializer_list>
#include <string>
#include <vector>

namespace linkmargin {

/// What holds for every prediction.
enum class StandingCaution { reading_decides, detectors_stay, local_rules, radio_rules, ladders, drilling };

/// All of them, whole: for the report and the command that lists them.
std::vector<std::string> standing_cautions(const Wording& wording);

/// At most three of them that an answer can hurt with, in a line each: its end.
std::vector<Block> closing_cautions(const Wording& wording, std::initializer_list<StandingCaution> cautions);

/// Cautions of one result as a list.
BulletList warning_list(const Language& language, const std::vector<Warning>& warnings);

}  // namespace linkmargin
