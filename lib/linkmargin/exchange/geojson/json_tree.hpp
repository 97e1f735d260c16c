#pragma once

#include "linkmargin/text/faults.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

/// Not installed.
namespace linkmargin::exchange::json {

/// A value of a JSON text, and where it stands there.
struct Value {
  enum class Kind { null, boolean, number, text, list, object };
  Kind kind = Kind::null;
  std::size_t position = 0;  ///< first byte of a list or object; of any other value its last
  double number = 0;         ///< of a number, and 0 or 1 of a boolean
  std::string text{};
  std::vector<Value> items{};        ///< of a list or object
  std::vector<std::string> names{};  ///< of an object's items

  /// The value of a name, the first where it is repeated; nullptr where there is none.
  const Value* find(std::string_view name) const;
  /// The text of a name; empty where there is none.
  std::string_view text_of(std::string_view name) const;
};

/// Reads a text by RFC 8259. @return nothing, and a fault by line and column, where it is none, or nests
/// deeper than 64 levels or holds more than four million values
std::optional<Value> parse(std::string_view text, Faults& faults);

}  // namespace linkmargin::exchange::json
