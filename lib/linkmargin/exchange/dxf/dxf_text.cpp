#include "linkmargin/exchange/dxf/dxf_text.hpp"

#include "linkmargin/text/text_decoding.hpp"

#include <array>
#include <charconv>
#include <cstddef>

namespace linkmargin::exchange::dxf {
namespace {

/// windows-1252 from 0x80 to 0x9F; 0: not given. Source: the mapping that Unicode publishes (from memory).
constexpr std::array<char32_t, 32> kHighLetters{
    0x20AC, 0,      0x201A, 0x0192, 0x201E, 0x2026, 0x2020, 0x2021, 0x02C6, 0x2030, 0x0160,
    0x2039, 0x0152, 0,      0x017D, 0,      0,      0x2018, 0x2019, 0x201C, 0x201D, 0x2022,
    0x2013, 0x2014, 0x02DC, 0x2122, 0x0161, 0x203A, 0x0153, 0,      0x017E, 0x0178};

void append_utf8(std::string& text, char32_t letter) {
  const auto byte = [&](char32_t value) { text += static_cast<char>(value); };
  if (letter < 0x80) {
    byte(letter);
  } else if (letter < 0x800) {
    byte(0xC0 | (letter >> 6U));
    byte(0x80 | (letter & 0x3FU));
  } else {
    byte(0xE0 | (letter >> 12U));
    byte(0x80 | ((letter >> 6U) & 0x3FU));
    byte(0x80 | (letter & 0x3FU));
  }
}

/// The bytes as UTF-8.
DecodedText in_utf8(std::string_view bytes, bool other_code_page) {
  DecodedText result;
  bool plain = true;
  for (const char one : bytes) plain = plain && static_cast<unsigned char>(one) < 0x80;
  Faults ignored("");
  if (plain || decoded_text(bytes, ignored)) {
    result.text = bytes;
    return result;
  }
  for (const char one : bytes) {
    const auto byte = static_cast<unsigned char>(one);
    const char32_t letter = byte >= 0x80 && byte < 0xA0 ? kHighLetters.at(byte - 0x80U) : byte;
    const bool known = byte < 0x80 || (!other_code_page && letter != 0);
    append_utf8(result.text, known ? letter : U'?');
    result.whole = result.whole && known;
  }
  return result;
}

/// The letter of a code \U+00E4 that begins at a position; 0 where none does.
char32_t coded_letter(std::string_view text, std::size_t position) {
  if (text.size() < position + 7 || text.substr(position, 3) != "\\U+") return 0;
  unsigned value = 0;
  const char* const begin = text.data() + position + 3;
  const auto [end, error] = std::from_chars(begin, begin + 4, value, 16);
  const bool letter = error == std::errc() && end == begin + 4 && value >= 0x20 && value != 0x7F &&
                      (value < 0xD800 || value > 0xDFFF);
  return letter ? static_cast<char32_t>(value) : 0;
}

/// The end of a code of several-line texts that takes a value up to a semicolon: \H2.5; \fArial|b0; \C1;
std::size_t end_of_code(std::string_view text, std::size_t position) {
  const std::size_t end = text.find(';', position);
  return end == std::string_view::npos ? text.size() : end + 1;
}

}  // namespace

DecodedText decoded(std::string_view value, bool several_lines, bool other_code_page) {
  const DecodedText read = in_utf8(value, other_code_page);
  const std::string_view text = read.text;
  DecodedText result{.text = {}, .whole = read.whole};
  for (std::size_t i = 0; i < text.size();) {
    if (const char32_t letter = coded_letter(text, i)) {
      append_utf8(result.text, letter);
      i += 7;
    } else if (text.substr(i, 2) == "%%" && i + 2 < text.size()) {
      const char code = text[i + 2];
      if (code == 'd' || code == 'D') append_utf8(result.text, 0xB0);
      if (code == 'c' || code == 'C') append_utf8(result.text, 0x2300);
      if (code == 'p' || code == 'P') append_utf8(result.text, 0xB1);
      if (code == '%') result.text += '%';
      i += 3;
    } else if (several_lines && (text[i] == '{' || text[i] == '}')) {
      ++i;
    } else if (several_lines && text[i] == '\\' && i + 1 < text.size()) {
      const char code = text[i + 1];
      if (code == 'P' || code == 'X') result.text += '\n';
      if (code == '~') result.text += ' ';
      if (code == '\\' || code == '{' || code == '}') result.text += code;
      if (code == 'S') {  // one over the other
        const std::size_t end = end_of_code(text, i + 2);
        for (const char part : text.substr(i + 2, end - i - 2)) {
          if (part != '^' && part != ';') result.text += part == '#' ? '/' : part;
        }
        i = end;
        continue;
      }
      const bool takes_value = std::string_view("ACFHQTWfp").find(code) != std::string_view::npos;
      i = takes_value ? end_of_code(text, i + 2) : i + 2;
    } else {
      const auto byte = static_cast<unsigned char>(text[i]);
      result.text += byte < 0x20 ? ' ' : text[i];
      ++i;
    }
  }
  return result;
}

}  // namespace linkmargin::exchange::dxf
