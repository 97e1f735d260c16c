#pragma once

#include "linkmargin/base/joined.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/geometry/polygon.hpp"
#include "linkmargin/site/edit/edit.hpp"
#include "linkmargin/site/schema/field.hpp"
#include "linkmargin/yaml/writer/new_entry.hpp"

#include <cmath>
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

/// "[[0, 0], [1, 0], [1, 1]]"
inline std::string corners_text(const std::vector<Point2>& corners) {
  std::string text;
  for (const Point2 corner : corners) text += (text.empty() ? "" : ", ") + point_text(corner);
  return "[" + text + "]";
}

/// "[x, y, width, depth]" of corners that rectangle() made; nothing of any others.
inline std::optional<std::string> rectangle_text(const Polygon2& corners) {
  if (corners.size() != 4) return {};
  const auto reads_so = [&](const std::vector<std::string>& texts) {
    std::vector<double> read;
    for (const std::string& text : texts) read.push_back(parse_number(text).value_or(0));
    Polygon2 again = rectangle({read[0], read[1]}, read[2], read[3]);
    for (Point2& corner : again) corner = snapped(corner);
    return again == corners;
  };
  const Point2 size = corners[2] - corners[0];
  std::vector<std::string> texts{coordinate_text(corners[0].x), coordinate_text(corners[0].y)};
  const auto in_millimetres = [](double length_m) { return shortest_text(std::round(length_m * 1e3) / 1e3); };
  for (const bool rounded : {true, false}) {
    texts.resize(2);
    texts.push_back(rounded ? in_millimetres(size.x) : coordinate_text(size.x));
    texts.push_back(rounded ? in_millimetres(size.y) : coordinate_text(size.y));
    if (reads_so(texts)) return "[" + joined(texts) + "]";
  }
  return {};
}

/// {material: brick, thickness_m: 0.215}
inline NewValue construction_value(const Construction& made) {
  NewValue map = map_value({{"material", name_value(made.material)}});
  if (made.thickness_m)
    map.entries.push_back({"thickness_m", literal_value(shortest_text(*made.thickness_m))});
  return map;
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
  if (const auto* own = std::get_if<schema::OwnName<Noun>>(&field.kind)) return name_value(own->get(noun));
  if (const auto* word = std::get_if<schema::Word<Noun>>(&field.kind)) {
    const std::vector<std::string> words = word->words();
    const std::size_t position = word->get(noun);
    return position < words.size() ? std::optional(name_value(words[position])) : std::nullopt;
  }
  if (const auto* on = std::get_if<schema::Switch<Noun>>(&field.kind))
    return NewValue(NewValue::Kind::flag, on->get(noun) ? "on" : "off", on->get(noun));
  if (const auto* made = std::get_if<schema::MadeOf<Noun>>(&field.kind)) {
    const auto construction = made->get(noun);
    return construction ? std::optional(construction_value(*construction)) : std::nullopt;
  }
  if (const auto* shape = std::get_if<schema::Rectangle<Noun>>(&field.kind)) {
    const auto sides = rectangle_text(shape->get(noun));
    return sides ? std::optional(literal_value(*sides)) : std::nullopt;
  }
  if (const auto* point = std::get_if<schema::Point<Noun>>(&field.kind))
    return literal_value(point_text(point->get(noun)));
  return {};
}

/// The map of the keys that a noun states by anything but free text and forms of their own. One that may be
/// left out and says what its absence says is, unless it is `always`.
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
