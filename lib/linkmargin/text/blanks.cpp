#include "linkmargin/text/blanks.hpp"

#include <algorithm>
#include <array>

namespace linkmargin {
namespace {

constexpr std::array<std::string_view, 15> kWideBlanks{"\u00A0", "\u2000", "\u2001", "\u2002", "\u2003",
                                                       "\u2004", "\u2005", "\u2006", "\u2007", "\u2008",
                                                       "\u2009", "\u200A", "\u202F", "\u205F", "\u3000"};

}  // namespace

std::size_t blank_at(std::string_view text, std::size_t position) {
  const char first = text[position];
  if (first == ' ' || first == '\t') return 1;
  if (first >= ' ' && first <= '~') return 0;  // most letters need no look at the table
  const std::string_view rest = text.substr(position);
  const auto found =
      std::ranges::find_if(kWideBlanks, [&](std::string_view blank) { return rest.starts_with(blank); });
  return found == kWideBlanks.end() ? 0 : found->size();
}

std::string_view trimmed(std::string_view text) {
  std::size_t begin = text.size();
  std::size_t end = 0;
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t blank = blank_at(text, i);
    if (blank == 0) {
      begin = std::min(begin, i);
      end = i + 1;
    }
    i += std::max<std::size_t>(blank, 1);
  }
  return begin < end ? text.substr(begin, end - begin) : std::string_view();
}

}  // namespace linkmargin
