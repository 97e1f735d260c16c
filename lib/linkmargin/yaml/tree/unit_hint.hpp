#pragma once

#include "linkmargin/base/range.hpp"
#include "linkmargin/yaml/tree/node.hpp"

#include <string>
#include <string_view>

namespace linkmargin::yaml {

/// What a number outside its range may have been in the key's unit: centimetres or millimetres for metres;
/// hertz, kilohertz or gigahertz for megahertz; milliwatts or a forgotten minus sign for decibels. Only
/// values inside the range are offered; empty when there is none.
std::string unit_slip_hint(std::string_view key, double value, const Range& range);

/// What a figure in feet may have been: inches. @param range  in metres
std::string foot_slip_hint(double length_m, const Range& range);

/// What a text that is no number may have been meant as: "2,6", "2,6 m", "25 mW" under a key in dBm.
std::string number_slip_hint(std::string_view key, std::string_view written);

/// For an unknown key that is the decimals of the value before it, "{thickness_m: 0,24}"; else empty.
std::string split_decimals_hint(const Node& map, const Entry& stray);

/// For a list of more numbers than `count` whose decimals a comma may part, "[3.13, 3,24]" for two: how it
/// may have been meant; else empty.
std::string split_list_hint(const Node& list, std::size_t count);

}  // namespace linkmargin::yaml
