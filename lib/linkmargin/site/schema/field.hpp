#pragma once

#include "linkmargin/base/range.hpp"
#include "linkmargin/geometry/polygon.hpp"
#include "linkmargin/site/material.hpp"

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

/// The keys of the site file, each described once: the reader, the editor, the writer, the JSON Schema and
/// the tables of docs/site-file go by these rows. Not installed.
namespace linkmargin::schema {

/// A number of the key's unit. `get` has no value where the noun does not state it.
template <typename Noun>
struct Number {
  const Range* range;
  std::optional<double> (*get)(const Noun&);
  void (*set)(Noun&, double);
  bool whole = false;
};

template <typename Noun>
struct Switch {
  bool (*get)(const Noun&);
  void (*set)(Noun&, bool);
};

/// A word of a closed set, by its position in it; `get` gives their count where the noun states none.
template <typename Noun>
struct Word {
  std::vector<std::string> (*words)();
  std::size_t (*get)(const Noun&);
  void (*set)(Noun&, std::size_t);
};

/// What the noun itself is called.
template <typename Noun>
struct OwnName {
  std::string (*get)(const Noun&);
  void (*set)(Noun&, const std::string&);
};

/// The name of another thing, looked up by validate(). `get` is empty where the noun does not state it.
template <typename Noun>
struct Name {
  std::string (*get)(const Noun&);
  void (*set)(Noun&, const std::string&);
};

template <typename Noun>
struct Text {
  void (*set)(Noun&, const std::string&);
};

/// A place in plan; set snapped.
template <typename Noun>
struct Point {
  Point2 (*get)(const Noun&);
  void (*set)(Noun&, Point2);
};

/// A storey by name, held by its position in Site::storeys.
template <typename Noun>
struct StoreyName {
  void (*set)(Noun&, std::size_t);
};

/// [x, y, width, depth] in plan.
template <typename Noun>
struct Rectangle {
  const Range* side;
  const Polygon2& (*get)(const Noun&);
  void (*set)(Noun&, Polygon2);
};

/// [[x, y], ...] in plan. A shape that is there already stays.
template <typename Noun>
struct Corners {
  const Range* side;
  void (*set)(Noun&, Polygon2);
  bool (*is_set)(const Noun&);
};

/// A wall, slab or leaf: {material: NAME, thickness_m: NUMBER}.
template <typename Noun>
struct MadeOf {
  std::optional<Construction> (*get)(const Noun&);  ///< nothing where the noun states none
  void (*set)(Noun&, Construction);
};

/// A value of a form of its own, which code reads: a list, a map of names, a pair of rooms, slots by class.
struct Part {
  std::string_view form;         ///< the definition of the JSON Schema that describes it
  const Range* range = nullptr;  ///< of the count of a list or map, or of the number
};

/// A length in metres, read by code, from which other keys of the noun follow.
struct Length {
  const Range* range;
};

template <typename Noun>
using Kind =
    std::variant<Number<Noun>, Switch<Noun>, Word<Noun>, OwnName<Noun>, Name<Noun>, Text<Noun>, Point<Noun>,
                 StoreyName<Noun>, Rectangle<Noun>, Corners<Noun>, MadeOf<Noun>, Length, Part>;

enum class Presence {
  required,
  optional,
  one_of,       ///< exactly one of the noun's keys that are marked so
  alternative,  ///< one of the noun's keys that are marked so, unless the noun gets its place otherwise: by
                ///< code
};

template <typename Noun>
struct Field {
  std::string_view key;
  Kind<Noun> kind;
  Presence presence;
  std::string_view meaning;      ///< a line of Markdown, without a full stop
  std::string_view absent = {};  ///< what holds without the key, where that is no value of unstated()
  bool editable = true;          ///< of the kinds that an edit can set
  /// Why an edit cannot set it in this noun, or an empty text; nullptr: it always can.
  std::string (*refuse)(const Noun&) = nullptr;
};

/// Field::editable of a key that edits leave alone.
inline constexpr bool kNotByEdit = false;

/// The keys of a noun, in the order in which they are read, listed and written.
template <typename Noun>
std::span<const Field<Noun>> fields();

/// What stands for a noun none of whose keys is given.
template <typename Noun>
Noun unstated() {
  return {};
}

/// Common practice.
inline constexpr double kUsualMaterialSigmaDb = 3;

template <>
inline Material unstated<Material>() {
  Material material;
  material.kind = MeasuredLoss{{LossPoint{}}};
  material.sigma_db = kUsualMaterialSigmaDb;
  return material;
}

/// Whether an edit can set a key by its kind and mark.
template <typename Noun>
bool is_editable(const Field<Noun>& field) {
  const auto& kind = field.kind;
  return field.editable &&
         (std::holds_alternative<Number<Noun>>(kind) || std::holds_alternative<Switch<Noun>>(kind) ||
          std::holds_alternative<Word<Noun>>(kind) || std::holds_alternative<Name<Noun>>(kind) ||
          std::holds_alternative<Point<Noun>>(kind) || std::holds_alternative<StoreyName<Noun>>(kind));
}

}  // namespace linkmargin::schema
