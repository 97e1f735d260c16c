#pragma once

#include "linkmargin/text/faults.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace linkmargin {

/// The text of a file as the parser may see it: without a byte-order mark, every line end a single line feed.
/// Nothing, and a fault, when the bytes are too many, empty, not UTF-8, or hold control characters.
std::optional<std::string> decoded_text(std::string_view bytes, Faults& faults,
                                        std::size_t most_bytes = kMaxFileBytes);

/// The same of a file that a spreadsheet may have written in UTF-16 with a byte-order mark.
std::optional<std::string> decoded_sheet_text(std::string_view bytes, Faults& faults,
                                              std::size_t most_bytes = kMaxFileBytes);

}  // namespace linkmargin
