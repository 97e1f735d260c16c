#pragma once

#include "linkmargin/text/faults.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace linkmargin {

/// What separates the fields of a text, and where its first record begins.
struct CsvLayout {
  char separator = ',';  ///< a comma, a semicolon or a tab
  std::size_t begin = 0;
};

/// As a first line "sep=;" says, which is no record; else what stands most often outside quotation marks in
/// the first row that is not blank: a comma or a semicolon, or where neither stands a tab. Commas where none
/// does.
CsvLayout csv_layout(std::string_view text, Faults& faults);

/// "comma", "semicolon" or "tab".
std::string separator_name(char separator);

/// Where the first separator other than this one stands in an unquoted field; a comma between two digits is a
/// decimal comma.
std::optional<std::size_t> other_separator(std::string_view field, char separator);

}  // namespace linkmargin
