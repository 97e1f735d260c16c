#pragma once

#include "linkmargin/report/document/document.hpp"

#include <string>
#include <string_view>

namespace linkmargin {

/// A table as RFC 4180 gives it: a row of column keys, lines that end in CRLF, quotes where a value needs
/// them. Numbers have up to 12 decimals; a number that is not finite, or not known, is empty.
std::string write_csv(const Table& table);

/// One field of such a row: a text, in quotation marks where it needs them. Before one that begins as a
/// spreadsheet's formulas do (=, +, -, @, a tab, a carriage return) stands an apostrophe, so that none is
/// run; not before a number.
std::string csv_text(std::string_view text);

/// One field of such a row: a number.
std::string csv_number(double number);

/// Between the lines.
inline constexpr std::string_view kCsvLineEnd = "\r\n";

}  // namespace linkmargin
