#include "linkmargin/text/look_alike.hpp"

#include <algorithm>
#include <cstdlib>
#include <memory>
#include <utf8proc.h>
#include <utility>

namespace linkmargin {
namespace {

/// Letters of other scripts that most typefaces draw as the Latin one, and signs drawn as the plain one. Our
/// own judgement: Unicode's list of confusable characters is many times as long.
constexpr std::pair<char32_t, char> kDrawnAlike[] = {
    // Greek
    {U'Α', 'A'},
    {U'Β', 'B'},
    {U'Ε', 'E'},
    {U'Ζ', 'Z'},
    {U'Η', 'H'},
    {U'Ι', 'I'},
    {U'Κ', 'K'},
    {U'Μ', 'M'},
    {U'Ν', 'N'},
    {U'Ο', 'O'},
    {U'Ρ', 'P'},
    {U'Τ', 'T'},
    {U'Υ', 'Y'},
    {U'Χ', 'X'},
    {U'α', 'a'},
    {U'γ', 'y'},
    {U'ι', 'i'},
    {U'κ', 'k'},
    {U'ν', 'v'},
    {U'ο', 'o'},
    {U'ρ', 'p'},
    {U'τ', 't'},
    {U'υ', 'u'},
    {U'χ', 'x'},
    {U'ω', 'w'},
    {U'ϲ', 'c'},
    {U'Ϲ', 'C'},
    {U'ϳ', 'j'},
    // Cyrillic
    {U'А', 'A'},
    {U'В', 'B'},
    {U'Е', 'E'},
    {U'К', 'K'},
    {U'М', 'M'},
    {U'Н', 'H'},
    {U'О', 'O'},
    {U'Р', 'P'},
    {U'С', 'C'},
    {U'Т', 'T'},
    {U'У', 'Y'},
    {U'Х', 'X'},
    {U'І', 'I'},
    {U'Ј', 'J'},
    {U'Ѕ', 'S'},
    {U'Ү', 'Y'},
    {U'а', 'a'},
    {U'е', 'e'},
    {U'к', 'k'},
    {U'о', 'o'},
    {U'р', 'p'},
    {U'с', 'c'},
    {U'у', 'y'},
    {U'х', 'x'},
    {U'і', 'i'},
    {U'ј', 'j'},
    {U'ѕ', 's'},
    {U'һ', 'h'},
    {U'ԁ', 'd'},
    {U'ԛ', 'q'},
    {U'ԝ', 'w'},
    {U'ѵ', 'v'},
    // Latin without its dot, hyphens and dashes, apostrophes
    {U'ı', 'i'},
    {U'‐', '-'},
    {U'‑', '-'},
    {U'‒', '-'},
    {U'–', '-'},
    {U'—', '-'},
    {U'−', '-'},
    {U'’', '\''},
    {U'‘', '\''},
    {U'´', '\''},
    {U'`', '\''}};

utf8proc_int32_t drawn_as(utf8proc_int32_t letter, void*) {
  if (utf8proc_category(letter) == UTF8PROC_CATEGORY_ZS) return ' ';
  const auto* found =
      std::ranges::find(kDrawnAlike, static_cast<char32_t>(letter), &std::pair<char32_t, char>::first);
  return found == std::end(kDrawnAlike) ? letter : found->second;
}

struct Free {
  void operator()(utf8proc_uint8_t* bytes) const { std::free(bytes); }
};

}  // namespace

std::string look_of(std::string_view name) {
  utf8proc_uint8_t* made = nullptr;
  const auto options = static_cast<utf8proc_option_t>(UTF8PROC_COMPOSE | UTF8PROC_COMPAT | UTF8PROC_CASEFOLD |
                                                      UTF8PROC_STRIPMARK | UTF8PROC_IGNORE);
  const auto size =
      utf8proc_map_custom(reinterpret_cast<const utf8proc_uint8_t*>(name.data()),
                          static_cast<utf8proc_ssize_t>(name.size()), &made, options, drawn_as, nullptr);
  const std::unique_ptr<utf8proc_uint8_t, Free> owned(made);
  if (size < 0) return std::string(name);
  std::string look(reinterpret_cast<const char*>(made), static_cast<std::size_t>(size));
  std::erase(look, ' ');
  return look;
}

}  // namespace linkmargin
