#pragma once

#include "linkmargin/base/range.hpp"

#include <string>
#include <string_view>

namespace linkmargin::yaml {

/// What a number outside its range may have been in the key's unit: centimetres or millimetres for metres;
/// hertz, kilohertz or gigahertz for megahertz; milliwatts or a forgotten minus sign for decibels. Only
/// values inside the range are offered; empty when there is none.
std::string unit_slip_hint(std::string_view key, double value, const Range& range);

/// What a text that is no number may have been meant as: "2,6", "2.6 m".
std::string number_slip_hint(std::string_view written);

}  // namespace linkmargin::yaml
