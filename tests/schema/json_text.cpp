#include "json_text.hpp"

#include <cstddef>

namespace linkmargin::schema {
namespace {

constexpr std::size_t kLineLength = 140;

std::string one_line(const Json& value) {
  if (!value.is_structured()) return value.dump();
  std::string text;
  for (const auto& [key, member] : value.items()) {
    if (!text.empty()) text += ", ";
    if (value.is_object()) text += Json(key).dump() + ": ";
    text += one_line(member);
  }
  return value.is_object() ? "{" + text + "}" : "[" + text + "]";
}

/// @param before  characters that stand before the value on its line
std::string spread(const Json& value, std::size_t indent, std::size_t before) {
  const std::string line = one_line(value);
  if (!value.is_structured() || before + line.size() <= kLineLength) return line;
  const std::string start = "\n" + std::string(indent + 2, ' ');
  std::string text;
  for (const auto& [key, member] : value.items()) {
    const std::string name = value.is_object() ? Json(key).dump() + ": " : std::string();
    text += (text.empty() ? "" : ",") + start + name + spread(member, indent + 2, indent + 2 + name.size());
  }
  text += "\n" + std::string(indent, ' ');
  return value.is_object() ? "{" + text + "}" : "[" + text + "]";
}

}  // namespace

std::string json_text(const Json& value) {
  return spread(value, 0, 0) + "\n";
}

}  // namespace linkmargin::schema
