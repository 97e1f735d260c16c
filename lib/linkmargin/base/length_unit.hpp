#pragma once

#include "linkmargin/base/enum_name.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace linkmargin {

/// What a person measures with: what a bare figure in a file counts, and what sentences say.
enum class LengthUnit : unsigned char { metre, foot };

inline constexpr EnumName<LengthUnit> kLengthUnitWords[] = {{"m", LengthUnit::metre},
                                                            {"ft", LengthUnit::foot}};

// Exact by definition (1959).
inline constexpr double kMetresAFoot = 0.3048;
inline constexpr double kMetresAnInch = 0.0254;

/// One of the unit in metres.
constexpr double metres_in(LengthUnit unit) {
  return unit == LengthUnit::foot ? kMetresAFoot : 1;
}

/// A length with its unit, in metres: "2.3m", "265 cm", "7'6\"", "7' 6 1/2\"", "7.5ft", "6in", "7 ft 6"; the
/// mark of inches may be left out behind feet. Nothing for a figure without a unit and for any other text.
std::optional<double> parse_length_m(std::string_view text);

/// "7'6½\"", "6\"", "-1'2\"": without blanks, rounded to so many parts of an inch, 8 at most, a power of two.
std::string feet_text(double length_m, int parts_of_inch);

/// A length as a fault says it: "0.35 m", or in feet and inches to an eighth of an inch.
std::string length_text(double length_m, LengthUnit unit);

}  // namespace linkmargin
