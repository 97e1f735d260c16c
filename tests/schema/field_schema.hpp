#pragma once

#include "field_row.hpp"
#include "json_text.hpp"

#include <cctype>
#include <string>
#include <utility>
#include <vector>

/// The rows of the tables of fields as a JSON Schema.
namespace linkmargin::schema {

/// How a schema refers to what both schemas share: "" inside it, else its file.
struct Shared {
  std::string file;

  Json ref(const std::string& name) const { return {{"$ref", file + "#/$defs/" + name}}; }
};

inline Json number_schema(const Range& range, bool whole = false) {
  return {{"type", whole ? "integer" : "number"},
          {"minimum", whole || range.min == static_cast<double>(static_cast<long>(range.min))
                          ? Json(static_cast<long>(range.min))
                          : Json(range.min)},
          {"maximum", whole || range.max == static_cast<double>(static_cast<long>(range.max))
                          ? Json(static_cast<long>(range.max))
                          : Json(range.max)}};
}

/// A length: a figure, whose range is that of metres, or a text with its unit.
inline Json length_schema(const Range& range, const Shared& shared) {
  return {{"anyOf", {number_schema(range), shared.ref("length")}}};
}

/// A list of numbers or other values, each of its own form.
inline Json tuple_schema(std::vector<Json> items) {
  const std::size_t count = items.size();
  return {{"type", "array"}, {"prefixItems", std::move(items)}, {"items", false}, {"minItems", count}};
}

/// A value of a form that no table describes; defined beside the schema that it belongs to.
Json part_schema(const Part& part, const Shared& shared);

/// The form of a value by its kind. References to points and the like stand in the site's schema alone.
struct FormOf {
  const Shared& shared;

  template <typename Noun>
  Json operator()(const Number<Noun>& kind) const {
    return number_schema(*kind.range, kind.whole);
  }
  template <typename Noun>
  Json operator()(const Switch<Noun>&) const {
    return shared.ref("switch");
  }
  template <typename Noun>
  Json operator()(const Word<Noun>& kind) const {
    return {{"enum", kind.words()}};
  }
  template <typename Noun>
  Json operator()(const Text<Noun>&) const {
    return shared.ref("text");
  }
  template <typename Noun>
  Json operator()(const Point<Noun>&) const {
    return {{"$ref", "#/$defs/point_m"}};
  }
  template <typename Noun>
  Json operator()(const Rectangle<Noun>& kind) const {
    const Json along = length_schema(limits::kPlanCoordinateM, shared);
    const Json side = length_schema(*kind.side, shared);
    return tuple_schema({along, along, side, side});
  }
  template <typename Noun>
  Json operator()(const Corners<Noun>&) const {
    return {{"$ref", "#/$defs/corners_m"}};
  }
  template <typename Noun>
  Json operator()(const MadeOf<Noun>&) const {
    return {{"$ref", "#/$defs/construction"}};
  }
  Json operator()(const Length& kind) const { return length_schema(*kind.range, shared); }
  Json operator()(const Part& part) const { return part_schema(part, shared); }
  Json operator()(const auto&) const {
    return shared.ref("name");
  }  // of itself, of another thing, of a storey
};

/// The value of a switch, word or number that holds without the key; null where that is none.
template <typename Noun>
struct DefaultOf {
  Noun noun = unstated<Noun>();

  Json operator()(const Number<Noun>& kind) const {
    const auto value = kind.get(noun);
    if (!value) return nullptr;
    return number_schema({*value, *value, "", ""}, kind.whole)["minimum"];
  }
  Json operator()(const Switch<Noun>& kind) const { return kind.get(noun); }
  Json operator()(const Word<Noun>& kind) const {
    const std::vector<std::string> words = kind.words();
    const std::size_t position = kind.get(noun);
    return position < words.size() ? Json(words[position]) : Json(nullptr);
  }
  Json operator()(const auto&) const { return nullptr; }
};

/// "Level shown as 0 %. In dBm. Default: -105.", from a line of Markdown. A word of the file or of a formula
/// keeps its small letter.
inline std::string description(const FieldRow& row) {
  std::string text = row.meaning;
  std::string absent = row.absent == "required" || row.absent == "one of these" ? "" : row.absent;
  std::erase(text, '`');
  std::erase(absent, '`');
  const bool is_word = !row.meaning.starts_with('`') && text.find(' ') != 1;
  if (is_word) text.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(text.front())));
  text += ".";
  if (!row.unit.empty()) text += " In " + row.unit + ".";
  return text + (absent.empty() ? "" : " Default: " + absent + ".");
}

/// Whether the name of a noun is a key of it, or stands elsewhere.
enum class Naming { key, elsewhere };

/// The map of a noun's keys; `more` says what needs several of them, and comes before its properties.
template <typename Noun>
Json object_schema(const Shared& shared, const std::string& about, const Json& more = Json::object(),
                   Naming naming = Naming::key) {
  Json schema{{"type", "object"}};
  if (!about.empty()) schema["description"] = about;
  schema["additionalProperties"] = false;
  Json required = Json::array();
  Json one_of = Json::array();
  Json properties = Json::object();
  const auto texts = rows<Noun>();
  for (std::size_t i = 0; i < texts.size(); ++i) {
    const Field<Noun>& field = fields<Noun>()[i];
    if (naming == Naming::elsewhere && std::holds_alternative<OwnName<Noun>>(field.kind)) continue;
    if (field.presence == Presence::required) required.push_back(field.key);
    if (field.presence == Presence::one_of) one_of.push_back({{"required", {field.key}}});
    Json form = std::visit(FormOf{shared}, field.kind);
    const auto* number = std::get_if<Number<Noun>>(&field.kind);
    if (number != nullptr && field.key.ends_with("_m")) form = length_schema(*number->range, shared);
    const Json usual = std::visit(DefaultOf<Noun>{}, field.kind);
    const bool has_default = field.presence == Presence::optional && field.absent.empty() && !usual.is_null();
    if (has_default) form["default"] = usual;
    form["description"] = description(texts[i]);
    properties[texts[i].key] = std::move(form);
  }
  if (!required.empty()) schema["required"] = required;
  if (!one_of.empty()) schema["oneOf"] = one_of;
  schema.update(more);
  schema["properties"] = properties;
  return schema;
}

}  // namespace linkmargin::schema
