#pragma once

#include "linkmargin/text/faults.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace linkmargin {

/// Whether bytes begin with a byte-order mark of UTF-16.
bool is_utf16(std::string_view bytes);

/// The same text in UTF-8, without the mark.
/// @param bytes  is_utf16()
/// @return nothing, and a fault, where a surrogate has no partner or the last byte none
std::optional<std::string> utf8_of_utf16(std::string_view bytes, Faults& faults);

}  // namespace linkmargin
