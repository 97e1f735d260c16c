#pragma once

#include <nlohmann/json.hpp>

#include <string>

namespace linkmargin::schema {

using Json = nlohmann::ordered_json;

/// JSON for people: a list or object on one line where it fits, else a member a line.
std::string json_text(const Json& value);

}  // namespace linkmargin::schema
