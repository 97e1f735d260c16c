#include "linkmargin/text/sheet_number.hpp"

#include "linkmargin/base/letter_case.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/text/blanks.hpp"

#include <algorithm>
#include <array>

namespace linkmargin {
namespace {

constexpr std::string_view kDigits = "0123456789";

/// What typesetting and spreadsheets put for a minus sign: hyphens, en dash, and the sign itself.
constexpr std::array<std::string_view, 4> kDashes{"\u2010", "\u2011", "\u2013", "\u2212"};

/// Takes a unit off the end of a number, or a percent sign off its beginning.
bool take_unit(std::string_view& text, std::string_view unit) {
  if (lower_case(text).ends_with(lower_case(unit))) {
    text.remove_suffix(unit.size());
  } else if (unit == "%" && text.starts_with(unit)) {
    text.remove_prefix(unit.size());
  } else {
    return false;
  }
  text = trimmed(text);
  return true;
}

std::string with_plain_minus(std::string_view text) {
  const auto dash =
      std::ranges::find_if(kDashes, [&](std::string_view known) { return text.starts_with(known); });
  return dash == kDashes.end() ? std::string(text) : "-" + std::string(text.substr(dash->size()));
}

/// @param mark  where the only decimal mark stands in the text
std::optional<double> read_parted(std::string text, std::size_t mark) {
  constexpr std::size_t group = 3;
  const std::size_t first = text.find_first_of(kDigits);
  const bool leads =
      first != std::string::npos && text[first] != '0' && first < mark && mark - first <= group;
  if (!leads || text.size() != mark + 1 + group) return {};
  text.erase(mark, 1);
  return text.find_first_not_of(kDigits, first) == std::string::npos ? parse_number(text) : std::nullopt;
}

}  // namespace

std::string_view unwrapped(std::string_view text) {
  if (text.size() >= 3 && text.starts_with("=\"") && text.ends_with('"'))
    return text.substr(2, text.size() - 3);
  return text.starts_with('\'') ? text.substr(1) : text;
}

std::optional<SheetNumber> sheet_number(std::string_view text, std::string_view unit) {
  SheetNumber number;
  text = trimmed(text);
  number.has_unit = take_unit(text, unit);
  number.text = with_plain_minus(text);
  const std::size_t mark = number.text.find_first_of(".,");
  if (mark != std::string::npos) {
    number.decimal = number.text[mark];
    number.parted = read_parted(number.text, mark);
    number.text[mark] = '.';
  }
  return parse_number(number.text) ? std::optional(number) : std::nullopt;
}

std::string parted_hint(std::string_view text, std::string_view unit) {
  text = trimmed(text);
  take_unit(text, unit);
  const std::string number = with_plain_minus(text);
  std::string digits;
  for (std::size_t i = number.starts_with('-') ? 1 : 0; i < number.size();) {
    const std::size_t blank = blank_at(number, i);
    if (blank == 0 && std::string_view(".,'").find(number[i]) == std::string_view::npos) digits += number[i];
    i += std::max<std::size_t>(blank, 1);
  }
  const bool is_number = !digits.empty() && digits.find_first_not_of(kDigits) == std::string::npos;
  return is_number ? "write no mark between thousands" : "";
}

}  // namespace linkmargin
