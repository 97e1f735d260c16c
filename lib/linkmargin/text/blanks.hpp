#pragma once

#include <cstddef>
#include <string_view>

namespace linkmargin {

/// Bytes of the blank that begins at a position, or 0 where there is none: a space, a tab, or one of the
/// other spaces of Unicode 15 (class Zs: no-break, thin, narrow and figure spaces and the like).
std::size_t blank_at(std::string_view text, std::size_t position);

/// The text without the blanks at its ends.
std::string_view trimmed(std::string_view text);

}  // namespace linkmargin
