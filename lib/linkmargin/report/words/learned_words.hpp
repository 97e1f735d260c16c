#pragma once

#include "linkmargin/prediction/device_link.hpp"

#include <string>

/// What readings taught a site, in plain words. Not installed.
namespace linkmargin {

/// What they taught of a link; nothing where they taught nothing of it.
std::string learned_words(const Site& site, const Link& link);

/// How sure that is, as a clause that follows the spread; nothing where it is sure.
std::string sure_words(const Link& link);

}  // namespace linkmargin
