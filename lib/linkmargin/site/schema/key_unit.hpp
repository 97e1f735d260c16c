#pragma once

#include <string_view>
#include <utility>

namespace linkmargin::schema {

/// The unit that the end of a key says, as it is printed: "m", "dBm", "%"; empty for any other key.
constexpr std::string_view key_unit(std::string_view key) {
  constexpr std::pair<std::string_view, std::string_view> units[] = {
      {"_m", "m"},     {"_mhz", "MHz"}, {"_khz", "kHz"},   {"_dbm", "dBm"},
      {"_dbi", "dBi"}, {"_db", "dB"},   {"_percent", "%"}, {"_deg", "deg"}};
  for (const auto& [end, unit] : units) {
    if (key.ends_with(end)) return unit;
  }
  return {};
}

}  // namespace linkmargin::schema
