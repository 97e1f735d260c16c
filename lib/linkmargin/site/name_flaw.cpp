#include "linkmargin/site/name_flaw.hpp"

#include "linkmargin/site/limits.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

/// Characters that no eye sees and that reorder, join or hide what stands about them: soft hyphen, controls
/// of zero width and of writing direction, byte order mark, the upper control characters (Unicode 15).
bool is_unseen(char32_t letter) {
  return letter == 0xAD || letter == 0x61C || letter == 0xFEFF || (letter >= 0x80 && letter < 0xA0) ||
         (letter >= 0x200B && letter <= 0x200F) || (letter >= 0x2028 && letter <= 0x202E) ||
         (letter >= 0x2060 && letter <= 0x206F);
}

/// The first unseen character of a UTF-8 text as "U+200B", or an empty text.
std::string unseen_character(std::string_view text) {
  for (std::size_t i = 0; i < text.size();) {
    const unsigned lead = static_cast<unsigned char>(text[i]);
    const std::size_t bytes = lead < 0x80 ? 1 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
    char32_t letter = bytes == 1 ? lead : lead & (0x7FU >> bytes);
    for (std::size_t k = 1; k < bytes && i + k < text.size(); ++k) {
      letter = (letter << 6U) | (static_cast<unsigned char>(text[i + k]) & 0x3FU);
    }
    i += bytes;
    if (!is_unseen(letter)) continue;
    constexpr std::string_view digits = "0123456789ABCDEF";
    std::string code = "U+";
    for (const unsigned shift : {12U, 8U, 4U, 0U}) code += digits[(letter >> shift) & 0xFU];
    return code;
  }
  return {};
}

bool begins_or_ends_blank(std::string_view name) {
  constexpr std::string_view no_break = "\u00A0";
  return name.front() == ' ' || name.back() == ' ' || name.starts_with(no_break) || name.ends_with(no_break);
}

}  // namespace

bool has_control(std::string_view text, std::string_view allowed) {
  return std::any_of(text.begin(), text.end(), [&](char letter) {
    const auto byte = static_cast<unsigned char>(letter);
    return (byte < 0x20 || byte == 0x7F) && allowed.find(letter) == std::string_view::npos;
  });
}

std::string name_flaw(std::string_view name, std::string_view shown) {
  if (name.find_first_not_of(' ') == std::string_view::npos) return "a name must not be empty";
  if (name.size() > limits::kMaxNameBytes) {
    return "a name takes at most " + std::to_string(limits::kMaxNameBytes) + " bytes, " + std::string(shown) +
           " has " + std::to_string(name.size());
  }
  if (has_control(name, "")) return "a name takes no control characters: " + std::string(shown);
  if (const std::string unseen = unseen_character(name); !unseen.empty()) {
    return "a name takes no character that cannot be seen: " + std::string(shown) + " has " + unseen;
  }
  if (begins_or_ends_blank(name)) return "a name takes no blank at its ends: " + std::string(shown);
  return {};
}

}  // namespace linkmargin
