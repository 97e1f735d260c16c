#include "linkmargin/yaml/faults.hpp"

#include <algorithm>
#include <tuple>
#include <utility>

namespace linkmargin::yaml {

void Faults::add(Mark mark, std::string path, std::string message, std::string hint) {
  doubtful_.push_back(path);
  add_stray(mark, std::move(path), std::move(message), std::move(hint));
}

void Faults::add_stray(Mark mark, std::string path, std::string message, std::string hint) {
  found_.push_back({file_, mark.line, mark.column, std::move(path), std::move(message), std::move(hint)});
}

Diagnostics Faults::sorted() && {
  std::stable_sort(found_.begin(), found_.end(), [](const Diagnostic& left, const Diagnostic& right) {
    return std::tie(left.line, left.column) < std::tie(right.line, right.column);
  });
  Diagnostics kept;
  std::size_t here = 0;  // where the faults of the present line and column begin
  for (Diagnostic& fault : found_) {
    const bool same_place =
        !kept.empty() && kept.back().line == fault.line && kept.back().column == fault.column;
    if (!same_place) here = kept.size();
    const auto first = kept.begin() + static_cast<std::ptrdiff_t>(here);
    const bool told = std::any_of(first, kept.end(), [&](const Diagnostic& other) {
      return other.message == fault.message && other.hint == fault.hint;
    });
    if (!told) kept.push_back(std::move(fault));
  }
  return kept;
}

std::string shown(std::string_view text) {
  constexpr std::size_t longest = 60;
  constexpr std::string_view digits = "0123456789ABCDEF";
  std::size_t size = std::min(text.size(), longest);
  while (size < text.size() && size > 0 && (static_cast<unsigned char>(text[size]) & 0xC0U) == 0x80U) --size;
  std::string result;
  for (const char letter : text.substr(0, size)) {
    const auto byte = static_cast<unsigned char>(letter);
    if (byte < 0x20 || byte == 0x7F) {
      result += {'\\', 'x', digits[byte >> 4U], digits[byte & 0xFU]};
    } else {
      result += letter;
    }
  }
  return size < text.size() ? result + "..." : result;
}

std::string quoted(std::string_view text, char mark) {
  std::string result(1, mark);
  result += shown(text);
  result += mark;
  return result;
}

}  // namespace linkmargin::yaml
