#pragma once

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/site/schema/field.hpp"
#include "linkmargin/site/schema/key_unit.hpp"

#include <string>
#include <string_view>
#include <variant>
#include <vector>

/// The rows of the tables of fields as texts, free of the nouns that they are about.
namespace linkmargin::schema {

/// One key as the pages of the site file tell it.
struct FieldRow {
  std::string key;
  std::string unit;
  std::string range;
  std::string absent;  ///< "required", or what holds without the key
  std::string meaning;
  friend bool operator==(const FieldRow&, const FieldRow&) = default;
};

/// "-150..30"
inline std::string range_text(const Range& range) {
  return shortest_text(range.min) + ".." + shortest_text(range.max);
}

/// "`walls`, `multi_wall`"
inline std::string words_text(const std::vector<std::string>& words) {
  std::string text;
  for (const std::string& word : words) text += (text.empty() ? "`" : ", `") + word + "`";
  return text;
}

/// What a kind says of the range of a value.
struct RangeOf {
  template <typename Noun>
  std::string operator()(const Number<Noun>& kind) const {
    return range_text(*kind.range);
  }
  template <typename Noun>
  std::string operator()(const Word<Noun>& kind) const {
    return words_text(kind.words());
  }
  template <typename Noun>
  std::string operator()(const Switch<Noun>&) const {
    return "`on`, `off`";
  }
  template <typename Noun>
  std::string operator()(const Point<Noun>&) const {
    return range_text(limits::kPlanCoordinateM);
  }
  template <typename Noun>
  std::string operator()(const Rectangle<Noun>& kind) const {
    return "sides " + range_text(*kind.side);
  }
  template <typename Noun>
  std::string operator()(const Corners<Noun>& kind) const {
    return range_text(limits::kCorners) + " corners, sides " + range_text(*kind.side);
  }
  std::string operator()(const Length& kind) const { return range_text(*kind.range); }
  std::string operator()(const Part& kind) const {
    if (kind.range == nullptr) return {};
    if (kind.form == "size_m") return "sides " + range_text(*kind.range);
    return kind.form == "capacity" ? range_text(*kind.range) : range_text(*kind.range) + " of them";
  }
  std::string operator()(const auto&) const { return {}; }
};

/// The value that a noun has where the key is left out; empty where that is none.
template <typename Noun>
struct UsualOf {
  Noun noun = unstated<Noun>();

  std::string operator()(const Number<Noun>& kind) const {
    const auto value = kind.get(noun);
    return value ? shortest_text(*value) : std::string();
  }
  std::string operator()(const Switch<Noun>& kind) const { return kind.get(noun) ? "`on`" : "`off`"; }
  std::string operator()(const Word<Noun>& kind) const { return words_text({kind.words()[kind.get(noun)]}); }
  std::string operator()(const auto&) const { return {}; }
};

template <typename Noun>
std::string absent_text(const Field<Noun>& field) {
  if (field.presence == Presence::required) return "required";
  if (field.presence == Presence::one_of || field.presence == Presence::alternative) return "one of these";
  return field.absent.empty() ? std::visit(UsualOf<Noun>{}, field.kind) : std::string(field.absent);
}

template <typename Noun>
std::vector<FieldRow> rows() {
  std::vector<FieldRow> texts;
  for (const Field<Noun>& field : fields<Noun>()) {
    texts.push_back({std::string(field.key), std::string(key_unit(field.key)),
                     std::visit(RangeOf{}, field.kind), absent_text(field), std::string(field.meaning)});
  }
  return texts;
}

}  // namespace linkmargin::schema
