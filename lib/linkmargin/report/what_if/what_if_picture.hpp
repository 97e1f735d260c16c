#pragma once

#include "linkmargin/messages/language.hpp"
#include "linkmargin/report/what_if/what_if_summary.hpp"

#include <string>

namespace linkmargin {

/// What runs come to as a picture, an SVG sheet: what the lowest reading depends on, a bar a parameter from
/// its lowest to its highest reading, and how the lowest reading lies in each case, the threshold marked.
std::string what_if_svg(const Language& language, const WhatIfSummary& summary);

}  // namespace linkmargin
