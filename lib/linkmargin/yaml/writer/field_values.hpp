#pragma once

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/site/edit/edit.hpp"
#include "linkmargin/site/schema/field.hpp"
#include "linkmargin/yaml/writer/new_entry.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

/// Writes the keys of a noun by the table of its fields.
namespace linkmargin::yaml {

/// "[1.5, 2]"
inline std::string point_text(Point2 at) {
  return "[" + coordinate_text(at.x) + ", " + coordinate_text(at.y) + "]";
}

/// The value of one field as it is written; nothing where the noun does not state it, or code writes it.
template <typename Noun>
std::optional<NewValue> field_value(const schema::Field<Noun>& field, const Noun& noun) {
  if (const auto* number = std::get_if<schema::Number<Noun>>(&field.kind)) {
    const auto value = number->get(noun);
    return value ? std::optional(literal_value(shortest_text(*value))) : std::nullopt;
  }
  if (const auto* name = std::get_if<schema::Name<Noun>>(&field.kind)) {
    const std::string text = name->get(noun);
    const bool given = !text.empty() || field.presence == schema::Presence::required;
    return given ? std::optional(name_value(text)) : std::nullopt;
  }
  if (const auto* point = std::get_if<schema::Point<Noun>>(&field.kind))
    return literal_value(point_text(point->get(noun)));
  return {};
}

/// The map of the keys that a noun states by numbers, names and places. One that may be left out and says
/// what its absence says is, unless it is `always`.
template <typename Noun>
NewValue noun_value(const Noun& noun, std::string_view always = {}) {
  NewValue map = map_value({});
  const auto absent = schema::unstated<Noun>();
  for (const auto& field : schema::fields<Noun>()) {
    auto value = field_value(field, noun);
    if (!value) continue;
    const auto usual = field_value(field, absent);
    const bool says_nothing = usual && usual->text == value->text;
    if (field.presence == schema::Presence::required || field.key == always || !says_nothing)
      map.entries.push_back({std::string(field.key), std::move(*value)});
  }
  return map;
}

}  // namespace linkmargin::yaml
