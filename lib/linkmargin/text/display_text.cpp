#include "linkmargin/text/display_text.hpp"

#include <algorithm>
#include <array>
#include <utf8proc.h>

namespace linkmargin {
namespace {

bool is_control(char32_t c) {
  return c < 0x20 || (c >= 0x7F && c < 0xA0) || c == 0x2028 || c == 0x2029;
}

/// Bidirectional marks, overrides and isolates: they would let a text reorder what stands around it.
bool reorders(char32_t c) {
  return c == 0x61C || c == 0x200E || c == 0x200F || (c >= 0x202A && c <= 0x202E) ||
         (c >= 0x2066 && c <= 0x2069);
}

/// Codes that are no characters; no XML document may hold the last two of the first plane.
bool is_noncharacter(char32_t c) {
  return (c & 0xFFFEU) == 0xFFFEU || (c >= 0xFDD0 && c <= 0xFDEF);
}

bool is_replaced(char32_t c) {
  return c == 0xFFFD || is_control(c) || is_noncharacter(c) || reorders(c);
}

/// With U+FFFD for what is not to be printed, but for the control characters that are kept.
std::string without_unprintable(std::string_view text, std::string_view kept) {
  std::string safe;
  for (std::size_t position = 0; position < text.size();) {
    const CodePoint next = decode_utf8(text, position);
    const bool replaced = is_replaced(next.value) && kept.find(text[position]) == std::string_view::npos;
    safe.append(replaced ? std::string_view("\xEF\xBF\xBD") : text.substr(position, next.bytes));
    position += next.bytes;
  }
  return safe;
}

/// The longest beginning of at most `width` columns, in bytes.
std::size_t fitting_bytes(std::string_view text, int width) {
  std::size_t position = 0;
  int used = 0;
  while (position < text.size()) {
    const CodePoint next = decode_utf8(text, position);
    used += display_width(next.value);
    if (used > width) break;
    position += next.bytes;
  }
  return position;
}

/// Whether the blank between two words stays: a figure and its unit are read as one.
bool is_unit(std::string_view word) {
  constexpr std::array<std::string_view, 7> units{"%", "dB", "dBm", "m", "cm", "MHz", "MiB"};
  const std::size_t end = word.find_first_of(".,;:)");
  return std::ranges::find(units, word.substr(0, end)) != units.end();
}

/// The next word of a line that begins with one, with the unit after a figure.
std::string_view next_word(std::string_view line) {
  const std::size_t end = line.find(' ');
  if (end == std::string_view::npos || end == 0 || line[end - 1] < '0' || line[end - 1] > '9') {
    return line.substr(0, end);
  }
  const std::size_t unit_end = std::min(line.find(' ', end + 1), line.size());
  return line.substr(0, is_unit(line.substr(end + 1, unit_end - end - 1)) ? unit_end : end);
}

void wrap_line(std::string_view line, int width, std::vector<std::string>& lines) {
  std::string current;
  int used = 0;
  while (!line.empty()) {
    const std::size_t start = line.find_first_not_of(' ');
    if (start == std::string_view::npos) break;
    line.remove_prefix(start);
    std::string_view word = next_word(line);
    line.remove_prefix(word.size());
    if (used > 0 && used + 1 + display_width(word) <= width) {
      current.append(" ").append(word);
      used += 1 + display_width(word);
      continue;
    }
    if (used > 0) lines.push_back(std::move(current));
    while (display_width(word) > width) {
      const std::size_t bytes = fitting_bytes(word, width);
      lines.emplace_back(word.substr(0, bytes));
      word.remove_prefix(bytes);
    }
    current = word;
    used = display_width(word);
  }
  lines.push_back(std::move(current));
}

}  // namespace

CodePoint decode_utf8(std::string_view text, std::size_t position) {
  const auto* bytes = reinterpret_cast<const utf8proc_uint8_t*>(text.data() + position);
  utf8proc_int32_t value = 0;
  const auto count = utf8proc_iterate(bytes, static_cast<utf8proc_ssize_t>(text.size() - position), &value);
  return count > 0 ? CodePoint{static_cast<char32_t>(value), static_cast<std::size_t>(count)} : CodePoint{};
}

int display_width(char32_t character) {
  const bool joined_jamo =
      (character >= 0x1160 && character <= 0x11FF) || (character >= 0xD7B0 && character <= 0xD7FF);
  if (joined_jamo) return 0;
  const auto point = static_cast<utf8proc_int32_t>(character);
  // Marks that take room of their own, of which the library says none: a terminal gives them a column.
  if (utf8proc_category(point) == UTF8PROC_CATEGORY_MC) return 1;
  return utf8proc_charwidth(point);
}

char32_t base_letter(char32_t character) {
  utf8proc_int32_t first = 0;
  std::array<utf8proc_int32_t, 8> parts{};
  const auto count = utf8proc_decompose_char(static_cast<utf8proc_int32_t>(character), parts.data(),
                                             parts.size(), UTF8PROC_DECOMPOSE, &first);
  return count > 0 ? static_cast<char32_t>(parts.front()) : character;
}

LetterKind letter_kind(char32_t character) {
  switch (utf8proc_category(static_cast<utf8proc_int32_t>(character))) {
    case UTF8PROC_CATEGORY_LL:
      return LetterKind::small;
    case UTF8PROC_CATEGORY_LU:
      return LetterKind::capital;
    default:
      return LetterKind::other;
  }
}

int display_width(std::string_view text) {
  int width = 0;
  for (std::size_t position = 0; position < text.size();) {
    const CodePoint next = decode_utf8(text, position);
    width += display_width(next.value);
    position += next.bytes;
  }
  return width;
}

std::string plain_ascii(std::string_view text) {
  constexpr std::array<std::pair<char32_t, char>, 10> ours{{{U'\u2588', '#'},
                                                            {U'\u2591', '.'},
                                                            {U'\u2500', '-'},
                                                            {U'\u2013', '-'},
                                                            {U'\u2014', '-'},
                                                            {U'\u2212', '-'},
                                                            {U'\u2026', '~'},
                                                            {U'\u00D7', 'x'},
                                                            {U'\u00A0', ' '},
                                                            {U'\u00B7', '.'}}};
  std::string plain;
  for (std::size_t position = 0; position < text.size();) {
    const CodePoint next = decode_utf8(text, position);
    position += next.bytes;
    if (next.value < 0x80) {
      plain += static_cast<char>(next.value);
      continue;
    }
    const auto* known = std::ranges::find(ours, next.value, &std::pair<char32_t, char>::first);
    if (known != ours.end()) {
      plain += known->second;
    } else {
      plain.append(static_cast<std::size_t>(display_width(next.value)), '?');
    }
  }
  return plain;
}

std::string printable(std::string_view text) {
  return without_unprintable(text, "");
}

std::string printable_lines(std::string_view text) {
  return without_unprintable(text, "\n\r\t");
}

std::string shortened(std::string_view text, int width) {
  if (display_width(text) <= width) return std::string(text);
  std::string_view kept = text.substr(0, fitting_bytes(text, width - 1));
  while (!kept.empty() && kept.back() == ' ') kept.remove_suffix(1);
  return std::string(kept) + "\u2026";
}

std::vector<std::string> wrapped(std::string_view text, int width) {
  std::vector<std::string> lines;
  while (true) {
    const std::size_t end = text.find('\n');
    wrap_line(text.substr(0, end), width, lines);
    if (end == std::string_view::npos) return lines;
    text.remove_prefix(end + 1);
  }
}

std::string padded(std::string_view text, int width, bool right_aligned) {
  const int missing = width - display_width(text);
  const std::string blanks(static_cast<std::size_t>(std::max(0, missing)), ' ');
  return right_aligned ? blanks + std::string(text) : std::string(text) + blanks;
}

}  // namespace linkmargin
