#pragma once

#include "deviations.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace linkmargin::validation {

/// Prose, its line breaks set anew; an empty line follows.
std::string paragraph(std::string_view text);

/// A list: each item set as a paragraph with a dash; an empty line follows.
std::string list(const std::vector<std::string>& items);

/// A table with one header row, in Markdown.
std::string table(const std::vector<std::string>& header, const std::vector<std::vector<std::string>>& rows);

/// A number with a fixed count of decimals.
std::string decimals(double value, int count);

/// The same with its sign, for what may go either way.
std::string with_sign(double value, int count);

/// A distance, >= 0: "< 0.001" where it is too small for the decimals shown.
std::string apart(double value, int count);

/// "rows, worst, rms" as cells.
std::vector<std::string> cells(const Deviations& deviations, int decimals_shown);

}  // namespace linkmargin::validation
