#pragma once

#include "linkmargin/site/schema/field.hpp"
#include "linkmargin/yaml/fields/shapes_yaml.hpp"
#include "linkmargin/yaml/tree/object_reader.hpp"

#include <concepts>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

/// Reads the keys of a noun by the table of its fields.
namespace linkmargin::yaml {

/// The storeys that a radio may name.
struct StoreyNames {
  std::vector<std::string> names;
  bool known = true;  ///< whether every storey has a name, so that another one can be called unknown
};

struct FieldContext {
  Faults& faults;
  const StoreyNames* storeys = nullptr;  ///< needed by nouns that stand on one
  bool has_own_name = true;              ///< false: what leads to the noun is its name, not a key of it
};

/// All keys that a noun may have.
template <typename Noun>
std::vector<std::string_view> keys_of() {
  std::vector<std::string_view> keys;
  for (const schema::Field<Noun>& field : schema::fields<Noun>()) keys.push_back(field.key);
  return keys;
}

/// The map {material: ..., thickness_m: ...}, or a text: "stud wall", "brick 0.215 m".
Construction read_construction(const Cursor& cursor, Faults& faults);

/// The position of a storey, or nothing and, where storeys are known, a fault.
std::optional<std::size_t> read_storey(const Cursor& cursor, const StoreyNames& storeys, Faults& faults);

/// Reads one field into a noun. What cannot be read leaves the noun as it was, but for numbers: a placeholder
/// inside their range stands for them.
template <typename Noun, typename ReadPart>
class FieldReader {
 public:
  FieldReader(ObjectReader& reader, Noun& noun, const FieldContext& context, ReadPart& read_part,
              const schema::Field<Noun>& field)
      : reader_(reader), noun_(noun), context_(context), read_part_(read_part), field_(field) {}

  void operator()(const schema::Number<Noun>& kind) {
    const auto cursor = value();
    if (kind.whole) {
      if (const auto count = cursor ? read_whole(*cursor, *kind.range, context_.faults) : std::nullopt)
        kind.set(noun_, *count);
    } else if (cursor) {
      kind.set(noun_, read_number(*cursor, *kind.range, context_.faults).value_or(placeholder(*kind.range)));
    } else if (field_.presence == schema::Presence::required) {
      kind.set(noun_, placeholder(*kind.range));
    }
  }
  void operator()(const schema::Switch<Noun>& kind) { set(kind, read_flag); }
  void operator()(const schema::Word<Noun>& kind) {
    if (field_.presence == schema::Presence::required) (void)reader_.need(field_.key);
    if (const auto position = reader_.word_position(field_.key, kind.words())) kind.set(noun_, *position);
  }
  void operator()(const schema::OwnName<Noun>& kind) {
    if (context_.has_own_name) set(kind, read_name);
  }
  void operator()(const schema::Name<Noun>& kind) { set(kind, read_name); }
  void operator()(const schema::Text<Noun>& kind) { set(kind, read_text); }
  void operator()(const schema::Point<Noun>& kind) {
    set(kind, [](const Cursor& cursor, Faults& faults) { return read_point(cursor, faults); });
  }
  void operator()(const schema::StoreyName<Noun>& kind) {
    set(kind,
        [&](const Cursor& cursor, Faults& faults) { return read_storey(cursor, *context_.storeys, faults); });
  }
  void operator()(const schema::Rectangle<Noun>& kind) {
    const auto cursor = value();
    if (cursor) kind.set(noun_, read_rectangle(*cursor, *kind.side, context_.faults));
  }
  void operator()(const schema::Corners<Noun>& kind) {
    const auto cursor = value();
    Polygon2 corners = cursor ? read_corners(*cursor, *kind.side, context_.faults) : Polygon2();
    if (!corners.empty() && !kind.is_set(noun_)) kind.set(noun_, std::move(corners));
  }
  void operator()(const schema::MadeOf<Noun>& kind) {
    if (const auto cursor = value()) kind.set(noun_, read_construction(*cursor, context_.faults));
  }
  void operator()(const schema::Length&) { part(); }
  void operator()(const schema::Part&) { part(); }

 private:
  std::optional<Cursor> value() {
    return field_.presence == schema::Presence::required ? reader_.need(field_.key)
                                                         : reader_.find(field_.key);
  }

  void part() {
    if (const auto cursor = value()) read_part_(field_.key, *cursor);
  }

  template <typename Kind, typename Read>
  void set(const Kind& kind, Read read) {
    const auto cursor = value();
    if (!cursor) return;
    if (const auto found = read(*cursor, context_.faults)) kind.set(noun_, *found);
  }

  ObjectReader& reader_;
  Noun& noun_;
  const FieldContext& context_;
  ReadPart& read_part_;
  const schema::Field<Noun>& field_;
};

/// Reads all keys of a noun; read_part(key, value) those that code reads.
template <typename Noun, std::invocable<std::string_view, const Cursor&> ReadPart>
void read_fields(ObjectReader& reader, Noun& noun, const FieldContext& context, ReadPart read_part) {
  std::vector<std::string_view> one_of;
  for (const auto& field : schema::fields<Noun>()) {
    if (field.presence == schema::Presence::one_of) one_of.push_back(field.key);
  }
  for (const auto& field : schema::fields<Noun>()) {
    if (!one_of.empty() && field.key == one_of.front()) reader.exactly_one_of(one_of);
    std::visit(FieldReader<Noun, ReadPart>(reader, noun, context, read_part, field), field.kind);
  }
}

/// The same for a noun without such keys.
template <typename Noun>
void read_fields(ObjectReader& reader, Noun& noun, const FieldContext& context) {
  read_fields(reader, noun, context, [](std::string_view, const Cursor&) {});
}

/// A noun of which nothing else is to be checked. @param noun  what holds where a key is not given
template <typename Noun>
Noun read_noun(const Cursor& cursor, std::string what, Faults& faults, Noun noun = {}) {
  ObjectReader reader(cursor, std::move(what), faults);
  read_fields(reader, noun, {faults});
  reader.finish();
  return noun;
}

}  // namespace linkmargin::yaml
