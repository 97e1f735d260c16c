#include "linkmargin/yaml/tree/scalar_text.hpp"

#include "linkmargin/base/letter_case.hpp"
#include "linkmargin/base/number_text.hpp"

#include <algorithm>
#include <array>

namespace linkmargin::yaml {
namespace {

/// Words that YAML 1.1 or 1.2 reads as no text.
constexpr std::array<std::string_view, 11> kReserved{"true", "false", "yes",  "no",  "on", "off",
                                                     "y",    "n",     "null", "nan", "inf"};

bool is_letter_or_digit(char letter) {
  const auto byte = static_cast<unsigned char>(letter);
  return byte >= 0x80 || (letter >= '0' && letter <= '9') || (letter >= 'a' && letter <= 'z') ||
         (letter >= 'A' && letter <= 'Z');
}

bool is_plain(std::string_view value) {
  const bool begins_plain = !value.empty() && (is_letter_or_digit(value.front()) || value.front() == '/');
  if (!begins_plain || value.back() == ' ') return false;
  // Figures alone may be read as numbers or dates.
  if (value.find_first_not_of("0123456789.eExXoO+-_/ ") == std::string_view::npos) return false;
  if (std::ranges::find(kReserved, lower_case(value)) != kReserved.end()) return false;
  return std::ranges::all_of(value, [](char letter) {
    return is_letter_or_digit(letter) || std::string_view(" _-./()+'").find(letter) != std::string_view::npos;
  });
}

std::string in_marks(std::string_view value, char mark) {
  std::string text(1, mark);
  for (const char letter : value) {
    if (letter == mark || (mark == '"' && letter == '\\')) text += mark == '"' ? '\\' : mark;
    text += letter;
  }
  return text + mark;
}

}  // namespace

Quotes quotes_of(char first) {
  if (first == '"') return Quotes::always_double;
  return first == '\'' ? Quotes::single : Quotes::as_needed;
}

std::string scalar_text(std::string_view value, Quotes quotes) {
  if (quotes == Quotes::as_needed && is_plain(value)) return std::string(value);
  return in_marks(value, quotes == Quotes::single ? '\'' : '"');
}

bool is_switch(std::string_view text, bool on) {
  return lower_case(text) == switch_text(on, text);
}

std::string switch_text(bool on, std::string_view old) {
  const std::string word = lower_case(old);
  if (word == "true" || word == "false") return on ? "true" : "false";
  if (word == "yes" || word == "no") return on ? "yes" : "no";
  return on ? "on" : "off";
}

}  // namespace linkmargin::yaml
