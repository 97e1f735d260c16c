#include "linkmargin/yaml/tree/syntax_fault.hpp"

#include <algorithm>
#include <array>

namespace linkmargin::yaml {
namespace {

struct Advice {
  std::string_view reason;  ///< as the parser words it
  std::string_view hint;
};

constexpr std::array kAdvice{
    Advice{"illegal map value",
           "a ':' stands where no key can be: check the indentation, or put the text in quotation marks"},
    Advice{"end of sequence flow not found",
           "a ',' between two items or the closing ']' is missing before this"},
    Advice{"end of map flow not found", "a ',' between two keys or the closing '}' is missing before this"},
    Advice{"illegal flow end", "this bracket closes nothing"},
    Advice{"end of map not found", "the indentation does not fit the lines above"},
    Advice{"end of sequence not found", "the indentation does not fit the lines above"},
    Advice{"illegal block entry", "a '-' stands where no item can be: check the indentation"},
    Advice{"illegal map key", "a key stands where none can be: check the indentation"},
    Advice{"unknown token", "text that begins with this character needs quotation marks"},
    Advice{"unknown escape character", "in double quotation marks a backslash is written twice"},
};

}  // namespace

std::string syntax_hint(std::string_view reason) {
  const auto* found = std::find_if(kAdvice.begin(), kAdvice.end(), [&](const Advice& advice) {
    return reason.substr(0, advice.reason.size()) == advice.reason;
  });
  return found == kAdvice.end() ? std::string() : std::string(found->hint);
}

std::optional<std::size_t> indenting_tab(std::string_view text, std::size_t position) {
  position = std::min(position, text.size());
  const auto line_start = [&](std::size_t from) {
    const std::size_t end = from == 0 ? std::string_view::npos : text.rfind('\n', from - 1);
    return end == std::string_view::npos ? 0 : end + 1;
  };
  const auto tab_of_line = [&](std::size_t start) -> std::optional<std::size_t> {
    const std::size_t content = text.find_first_not_of(" \t", start);
    const std::size_t tab = text.find('\t', start);
    if (content == std::string_view::npos || tab > content || text[content] == '\n') return {};
    return tab;
  };
  const std::size_t here = line_start(position);
  if (const auto tab = tab_of_line(here)) return tab;
  return here == 0 ? std::optional<std::size_t>() : tab_of_line(line_start(here - 1));
}

bool quotation_closes(std::string_view text, std::size_t position) {
  const char mark = text[position];
  for (std::size_t i = position + 1; i < text.size(); ++i) {
    if (mark == '"' && text[i] == '\\') {
      ++i;
    } else if (text[i] == mark) {
      const bool doubled = mark == '\'' && i + 1 < text.size() && text[i + 1] == mark;
      if (!doubled) return true;
      ++i;
    }
  }
  return false;
}

}  // namespace linkmargin::yaml
