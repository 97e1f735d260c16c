#include "linkmargin/yaml/tree/written_quantity.hpp"

#include "linkmargin/base/length_unit.hpp"
#include "linkmargin/base/letter_case.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/text/blanks.hpp"

#include <algorithm>
#include <cmath>
#include <string>

namespace linkmargin::yaml {
namespace {

/// A unit as it may be written, in small letters, and what one of it is in the unit of its keys.
struct Unit {
  std::string_view key_end;
  std::string_view written;
  double factor;
};

constexpr Unit kUnits[] = {
    {"_mhz", "hz", 1e-6}, {"_mhz", "khz", 1e-3},      {"_mhz", "mhz", 1},        {"_mhz", "ghz", 1e3},
    {"_khz", "hz", 1e-3}, {"_khz", "khz", 1},         {"_khz", "mhz", 1e3},      {"_db", "db", 1},
    {"_dbm", "dbm", 1},   {"_dbm", "db", 1},          {"_dbi", "dbi", 1},        {"_dbi", "db", 1},
    {"_deg", "deg", 1},   {"_deg", "°", 1},           {"_deg", "degrees", 1},    {"_deg", "grad", 1},
    {"_percent", "%", 1}, {"_percent", "percent", 1}, {"_percent", "prozent", 1}};

/// A number at the beginning of a text, which loses it; a comma may part its decimals.
std::optional<double> take_number(std::string_view& text) {
  const std::size_t end = std::min(text.find_first_not_of("+-.,0123456789"), text.size());
  std::string number(text.substr(0, end));
  if (std::ranges::count(number, ',') == 1 && number.find('.') == std::string::npos) {
    number[number.find(',')] = '.';
  }
  text.remove_prefix(end);
  return parse_number(number);
}

/// What one of the unit at the beginning of a text is, which loses it: the longest that fits, up to a blank
/// or a figure.
std::optional<double> take_unit(std::string_view key, std::string_view& text) {
  const std::string small = lower_case(text.substr(0, text.find_first_of(" 0123456789")));
  const auto* unit = std::ranges::find_if(
      kUnits, [&](const Unit& known) { return key.ends_with(known.key_end) && known.written == small; });
  if (unit == std::end(kUnits)) return {};
  text.remove_prefix(small.size());
  return unit->factor;
}

/// "25 mW" for a key in dBm.
std::optional<double> power_dbm(std::string_view key, double number, std::string_view unit) {
  if (!key.ends_with("_dbm") || number <= 0) return {};
  const std::string small = lower_case(unit);
  const double milliwatts = small == "mw" ? number : small == "w" ? 1000 * number : 0;
  if (milliwatts == 0) return {};
  return std::round(100 * std::log10(milliwatts)) / 10;
}

/// A length whose decimals a comma parts, to the millimetre.
std::optional<double> comma_length_m(std::string_view written) {
  std::string text(written);
  std::ranges::replace(text, ',', '.');
  const auto length_m = parse_length_m(text);
  return length_m ? std::optional(std::round(*length_m * 1e3) / 1e3) : std::nullopt;
}

}  // namespace

std::optional<double> quantity_in(std::string_view key, std::string_view written) {
  if (key.ends_with("_m")) return comma_length_m(written);
  std::string_view rest = trimmed(written);
  const auto number = take_number(rest);
  rest = trimmed(rest);
  if (!number || rest.empty()) return {};
  if (const auto level_dbm = power_dbm(key, *number, rest)) return level_dbm;
  const auto factor = take_unit(key, rest);
  if (!factor || !trimmed(rest).empty()) return {};
  return std::round(*number * *factor * 1e6) / 1e6;
}

}  // namespace linkmargin::yaml
