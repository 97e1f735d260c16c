#include "linkmargin/report/display_text.hpp"

#include <algorithm>
#include <array>

namespace linkmargin {
namespace {

struct Block {
  char32_t first;
  char32_t last;
};

constexpr std::array<Block, 9> kNoColumns{{{0x0300, 0x036F},
                                           {0x0483, 0x0489},
                                           {0x0591, 0x05BD},
                                           {0x1AB0, 0x1AFF},
                                           {0x1DC0, 0x1DFF},
                                           {0x200B, 0x200F},
                                           {0x20D0, 0x20FF},
                                           {0xFE00, 0xFE0F},
                                           {0xFE20, 0xFE2F}}};

constexpr std::array<Block, 11> kTwoColumns{{{0x1100, 0x115F},
                                             {0x2E80, 0x303E},
                                             {0x3041, 0x4DBF},
                                             {0x4E00, 0xA4CF},
                                             {0xAC00, 0xD7A3},
                                             {0xF900, 0xFAFF},
                                             {0xFE30, 0xFE6F},
                                             {0xFF00, 0xFF60},
                                             {0xFFE0, 0xFFE6},
                                             {0x1F300, 0x1FAFF},
                                             {0x20000, 0x3FFFD}}};

template <std::size_t Count>
bool in_any(const std::array<Block, Count>& blocks, char32_t character) {
  return std::any_of(blocks.begin(), blocks.end(), [character](const Block& block) {
    return character >= block.first && character <= block.last;
  });
}

bool is_control(char32_t c) {
  return c < 0x20 || (c >= 0x7F && c < 0xA0) || c == 0x2028 || c == 0x2029;
}

/// Bidirectional overrides and isolates: they would let a name reorder the text around it.
bool reorders(char32_t c) {
  return (c >= 0x202A && c <= 0x202E) || (c >= 0x2066 && c <= 0x2069);
}

/// Characters that no XML document may hold.
bool is_noncharacter(char32_t c) {
  return c == 0xFFFE || c == 0xFFFF;
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
  const auto byte = [&](std::size_t offset) -> unsigned {
    return position + offset < text.size() ? static_cast<unsigned char>(text[position + offset]) : 0U;
  };
  const unsigned lead = byte(0);
  if (lead < 0x80U) return {static_cast<char32_t>(lead), 1};
  const std::size_t bytes = lead >= 0xF0U && lead < 0xF5U ? 4 : lead >= 0xE0U ? 3 : 2;
  if (lead < 0xC2U || lead >= 0xF5U) return {};
  char32_t value = lead & (0x7FU >> bytes);
  for (std::size_t i = 1; i < bytes; ++i) {
    if ((byte(i) & 0xC0U) != 0x80U) return {};
    value = (value << 6U) | (byte(i) & 0x3FU);
  }
  const std::array<char32_t, 5> least{0, 0, 0x80, 0x800, 0x10000};
  if (value < least[bytes] || value > 0x10FFFF || (value >= 0xD800 && value <= 0xDFFF)) return {};
  return {value, bytes};
}

int display_width(char32_t character) {
  if (in_any(kNoColumns, character)) return 0;
  return in_any(kTwoColumns, character) ? 2 : 1;
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

std::string printable(std::string_view text) {
  std::string safe;
  for (std::size_t position = 0; position < text.size();) {
    const CodePoint next = decode_utf8(text, position);
    const bool replaced =
        next.value == 0xFFFD || is_control(next.value) || is_noncharacter(next.value) || reorders(next.value);
    safe.append(replaced ? std::string_view("\xEF\xBF\xBD") : text.substr(position, next.bytes));
    position += next.bytes;
  }
  return safe;
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
