#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace linkmargin {

/// Longest name, in bytes.
inline constexpr std::size_t kMaxNameBytes = 80;

/// Whether a text holds control characters other than the allowed ones.
bool has_control(std::string_view text, std::string_view allowed);

/// The first character of a UTF-8 text; 0 where there is none.
char32_t first_letter(std::string_view text);

/// A character as Unicode writes it: "U+200B".
std::string code_text(char32_t letter);

/// What is wrong with a name that a person gave, or an empty text: names are not empty, have at most
/// kMaxNameBytes, no blank at their ends and no character that cannot be seen, nor
/// any of private use or that Unicode has not given away: they look alike.
/// @param name   UTF-8
/// @param shown  the name as the message may quote it, quotation marks included
std::string name_flaw(std::string_view name, std::string_view shown);

}  // namespace linkmargin
