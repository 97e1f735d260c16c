#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace linkmargin {

/// The number with a fixed count of decimals, independent of locale. A zero never carries a minus sign.
/// NaN and infinities give "nan", "inf" and "-inf".
std::string fixed_text(double value, int decimals);

/// The shortest text that reads back as the same double, never in exponent form between 1e-6 and 1e15.
std::string shortest_text(double value);

/// Reads a whole decimal number ("1.5", "-3", "1e3"); surrounding text of any kind gives nothing.
/// "nan", "inf" and their YAML spellings are not numbers here.
std::optional<double> parse_number(std::string_view text);

}  // namespace linkmargin
