#pragma once

#include "linkmargin/messages/language.hpp"

#include <span>
#include <string_view>

namespace linkmargin {

/// The words of a built-in language, made of the YAML file when the library is built.
/// @param parts  of the text, each of whole lines: a key, a tab and what it says ("texts.gauge.weak\tweak")
LanguageWords words_of_lines(std::span<const std::string_view> parts);

}  // namespace linkmargin
