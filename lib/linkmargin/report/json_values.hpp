#pragma once

#include "linkmargin/analysis/link_table.hpp"

#include <nlohmann/json.hpp>

#include <string>

// Inside report/ only: nobody who uses the library sees the JSON library.
namespace linkmargin::json {

using Value = nlohmann::ordered_json;

/// 12 decimals; null when the number is not finite.
Value number(double value);

Value link(const Link& link);

/// Two blanks a level, a line break at the end; bytes that are not UTF-8 are replaced.
std::string text(const Value& value);

}  // namespace linkmargin::json
