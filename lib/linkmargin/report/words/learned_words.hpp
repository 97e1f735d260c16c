#pragma once

#include "linkmargin/prediction/serving/device_link.hpp"
#include "linkmargin/report/words/wording.hpp"

#include <string>

/// What was learned of a site from its readings, in plain words. Not installed.
namespace linkmargin {

/// What they show of a link; nothing where they show nothing of it.
std::string learned_words(const Wording& wording, const Site& site, const Link& link);

/// How sure what was learned is, as a sentence; nothing where it is sure.
std::string sure_words(const Wording& wording, const Link& link);

}  // namespace linkmargin
