#include "linkmargin/text/name_flaw.hpp"

#include <algorithm>
#include <optional>
#include <utf8proc.h>
#include <utility>

namespace linkmargin {
namespace {

/// Braille without a dot, and a note without a head: classes of their own say that they can be seen.
constexpr utf8proc_int32_t kBlankSigns[] = {0x2800, 0x1D159};

/// By Unicode's own classes: controls, formats, characters of private use and those that no version has given
/// away, parts of lines and paragraphs, and what is drawn as nothing where a typeface lacks it (variation
/// selectors, fillers, joiners).
bool is_unseen(utf8proc_int32_t letter) {
  switch (utf8proc_category(letter)) {
    case UTF8PROC_CATEGORY_CC:
    case UTF8PROC_CATEGORY_CF:
    case UTF8PROC_CATEGORY_CS:
    case UTF8PROC_CATEGORY_CO:
    case UTF8PROC_CATEGORY_CN:
    case UTF8PROC_CATEGORY_ZL:
    case UTF8PROC_CATEGORY_ZP:
      return true;
    default:
      return utf8proc_get_property(letter)->ignorable != 0 ||
             std::ranges::find(kBlankSigns, letter) != std::end(kBlankSigns);
  }
}

/// The first character, or nothing where there is none; bytes that are not UTF-8 end the text.
std::optional<utf8proc_int32_t> take_letter(std::string_view& text) {
  utf8proc_int32_t letter = 0;
  const auto bytes = utf8proc_iterate(reinterpret_cast<const utf8proc_uint8_t*>(text.data()),
                                      static_cast<utf8proc_ssize_t>(text.size()), &letter);
  if (bytes <= 0) return {};
  text.remove_prefix(static_cast<std::size_t>(bytes));
  return letter;
}

/// The first unseen character of a UTF-8 text as "U+200B", or an empty text.
std::string unseen_character(std::string_view text) {
  while (const auto letter = take_letter(text)) {
    if (is_unseen(*letter)) return code_text(static_cast<char32_t>(*letter));
  }
  return {};
}

bool begins_or_ends_blank(std::string_view name) {
  bool blank = false;
  bool first = true;
  while (const auto letter = take_letter(name)) {
    blank = utf8proc_category(*letter) == UTF8PROC_CATEGORY_ZS;
    if (blank && std::exchange(first, false)) return true;
    first = false;
  }
  return blank;
}

}  // namespace

char32_t first_letter(std::string_view text) {
  return static_cast<char32_t>(take_letter(text).value_or(0));
}

std::string code_text(char32_t letter) {
  constexpr std::string_view digits = "0123456789ABCDEF";
  std::string code = "U+";
  for (const unsigned shift : {20U, 16U, 12U, 8U, 4U, 0U}) {
    if (shift < 16 || (letter >> shift) != 0) code += digits[(letter >> shift) & 0xFU];
  }
  return code;
}

bool has_control(std::string_view text, std::string_view allowed) {
  return std::any_of(text.begin(), text.end(), [&](char letter) {
    const auto byte = static_cast<unsigned char>(letter);
    return (byte < 0x20 || byte == 0x7F) && allowed.find(letter) == std::string_view::npos;
  });
}

std::string name_flaw(std::string_view name, std::string_view shown) {
  if (name.find_first_not_of(' ') == std::string_view::npos) return "a name must not be empty";
  if (name.size() > kMaxNameBytes) {
    return "a name takes at most " + std::to_string(kMaxNameBytes) + " bytes, " + std::string(shown) +
           " has " + std::to_string(name.size());
  }
  if (has_control(name, "")) return "a name takes no control characters: " + std::string(shown);
  if (const std::string unseen = unseen_character(name); !unseen.empty()) {
    return "a name takes no character that cannot be seen: " + std::string(shown) + " has " + unseen;
  }
  if (begins_or_ends_blank(name)) return "a name takes no blank at its ends: " + std::string(shown);
  return {};
}

}  // namespace linkmargin
