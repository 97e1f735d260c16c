#pragma once

#include "linkmargin/report/drawing/sheet.hpp"

#include <string>
#include <string_view>
#include <vector>

// Inside report/ only: texts set in lines by the width of their letters.
namespace linkmargin {

/// On the generous side, as svg::text_width_em().
double text_width_px(std::string_view text, const Lettering& lettering);

/// Broken between words, but not between a figure and its unit; a word that is wider than a line is cut.
/// Line breaks in the text are kept. @param width_px  of a line, at least a letter's
std::vector<std::string> lines_within(std::string_view text, const Lettering& lettering, double width_px);

/// The text in one line; what is left out is shown by an ellipsis.
std::string fitted(std::string_view text, const Lettering& lettering, double width_px);

}  // namespace linkmargin
