#include "linkmargin/base/shell_word.hpp"

#include <algorithm>
#include <string_view>

namespace linkmargin {

std::string shell_word(const std::string& text) {
  constexpr std::string_view plain =
      "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_-./,:=+%@";
  const bool is_word = !text.empty() && std::ranges::all_of(text, [&](char letter) {
    return plain.find(letter) != std::string_view::npos || static_cast<unsigned char>(letter) >= 0x80;
  });
  if (is_word) return text;
  std::string quoted = "'";
  for (const char letter : text) quoted += letter == '\'' ? "'\\''" : std::string(1, letter);
  return quoted + "'";
}

}  // namespace linkmargin
