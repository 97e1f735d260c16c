#include "linkmargin/text/utf16.hpp"

#include "linkmargin/text/line_counter.hpp"

namespace linkmargin {
namespace {

constexpr std::string_view kLittleEndian = "\xFF\xFE";
constexpr std::string_view kBigEndian = "\xFE\xFF";

bool is_high_surrogate(char32_t unit) {
  return unit >= 0xD800 && unit < 0xDC00;
}
bool is_low_surrogate(char32_t unit) {
  return unit >= 0xDC00 && unit < 0xE000;
}

void append_utf8(std::string& text, char32_t letter) {
  const auto add = [&](char32_t byte) { text += static_cast<char>(static_cast<unsigned char>(byte)); };
  const auto add_tail = [&](unsigned shift) { add(0x80U | ((letter >> shift) & 0x3FU)); };
  if (letter < 0x80) {
    add(letter);
  } else if (letter < 0x800) {
    add(0xC0U | (letter >> 6U));
    add_tail(0);
  } else if (letter < 0x10000) {
    add(0xE0U | (letter >> 12U));
    add_tail(6);
    add_tail(0);
  } else {
    add(0xF0U | (letter >> 18U));
    add_tail(12);
    add_tail(6);
    add_tail(0);
  }
}

}  // namespace

bool is_utf16(std::string_view bytes) {
  return bytes.starts_with(kLittleEndian) || bytes.starts_with(kBigEndian);
}

std::optional<std::string> utf8_of_utf16(std::string_view bytes, Faults& faults) {
  const std::size_t low = bytes.starts_with(kLittleEndian) ? 0 : 1;  // which byte of a unit is the lower one
  const auto unit_at = [&](std::size_t i) -> char32_t {
    const auto byte = [&](std::size_t k) {
      return static_cast<char32_t>(static_cast<unsigned char>(bytes[k]));
    };
    return byte(i + low) | (byte(i + 1 - low) << 8U);
  };
  std::string text;
  text.reserve(bytes.size() / 2);
  for (std::size_t i = kLittleEndian.size(); i < bytes.size(); i += 2) {
    const bool whole = i + 1 < bytes.size();
    char32_t letter = whole ? unit_at(i) : 0;
    const bool paired = is_high_surrogate(letter) && i + 3 < bytes.size() && is_low_surrogate(unit_at(i + 2));
    if (!whole || is_low_surrogate(letter) || (is_high_surrogate(letter) && !paired)) {
      faults.add(end_of(text), DiagnosticCode::syntax, "",
                 "not UTF-16 text at byte offset " + std::to_string(i), "save the file as UTF-8");
      return {};
    }
    if (paired) {
      letter = 0x10000U + ((letter - 0xD800U) << 10U) + (unit_at(i + 2) - 0xDC00U);
      i += 2;
    }
    append_utf8(text, letter);
  }
  return text;
}

}  // namespace linkmargin
