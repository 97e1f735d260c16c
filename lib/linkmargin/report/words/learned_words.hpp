#pragma once

#include "linkmargin/report/words/wording.hpp"
#include "linkmargin/prediction/device_link.hpp"

#include <string>

/// What readings taught a site, in plain words. Not installed.
namespace linkmargin {

/// What they taught of a link; nothing where they taught nothing of it.
std::string learned_words(const Wording& wording, const Site& site, const Link& link);

/// How sure what was learned is, as a sentence; nothing where it is sure.
std::string sure_words(const Wording& wording, const Link& link);

}  // namespace linkmargin
