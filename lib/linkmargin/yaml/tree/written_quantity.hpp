#pragma once

#include <optional>
#include <string_view>

namespace linkmargin::yaml {

/// What a text with a unit, "265cm", "8' 6\"", "2,4 GHz", is in the unit of a key ("_m", "_mhz", "_khz",
/// "_db",
/// "_dbm", "_dbi", "_deg", "_percent"). Nothing where the key has no unit, or the text is no number with one
/// that can be turned into it. Milliwatts and watts are taken for a key in dBm.
/// @param key   of a site file: "height_m"
std::optional<double> quantity_in(std::string_view key, std::string_view written);

}  // namespace linkmargin::yaml
