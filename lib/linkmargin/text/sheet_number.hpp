#pragma once

#include <optional>
#include <string>
#include <string_view>

/// Values as spreadsheets of any country write them.
namespace linkmargin {

/// A text without the apostrophe before it, or the `="` and `"` about it, by which spreadsheets and the
/// programs that write for them mark it as text. Nothing is ever calculated.
std::string_view unwrapped(std::string_view text);

struct SheetNumber {
  std::string text;              ///< as parse_number() takes it, and it does
  std::optional<char> decimal;   ///< the mark before its decimals as written, a point or a comma
  bool has_unit = false;         ///< its unit was written
  std::optional<double> parted;  ///< its value if that mark parts the thousands instead: 1234 for "1,234"
};

/// A number with a decimal point or comma, its own unit behind it (the percent sign also before it), any dash
/// as its minus sign and blanks (see blank_at()) about these. Nothing where it is no such number.
/// @param unit  "%", "dBm", "m"; letter case does not count
std::optional<SheetNumber> sheet_number(std::string_view text, std::string_view unit);

/// What to do about a text that is no sheet_number(), with marks between thousands: "1.234,5", "1 234"; or an
/// empty text.
std::string parted_hint(std::string_view text, std::string_view unit);

}  // namespace linkmargin
