#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace linkmargin::yaml {

/// What may have been meant where the parser gave up, by its reason; empty when nothing helpful is known.
std::string syntax_hint(std::string_view reason);

/// The position of a tab that indents the line of `position` or the one before it.
std::optional<std::size_t> indenting_tab(std::string_view text, std::size_t position);

/// Whether the quotation mark at `position` has its partner.
bool quotation_closes(std::string_view text, std::size_t position);

}  // namespace linkmargin::yaml
