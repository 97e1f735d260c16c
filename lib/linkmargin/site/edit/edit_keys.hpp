#pragma once

#include "linkmargin/base/range.hpp"
#include "linkmargin/geometry/point.hpp"

#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

/// What an edit may set in each noun: one row a key. Not installed.
namespace linkmargin::edits {

template <typename Noun>
struct NumberKey {
  const Range* range;
  void (*set)(Noun&, double);
  bool whole = false;
};

/// Names of things are looked up by validate().
template <typename Noun>
struct NameKey {
  void (*set)(Noun&, const std::string&);
};

template <typename Noun>
struct FlagKey {
  void (*set)(Noun&, bool);
};

/// A place in plan; given snapped.
template <typename Noun>
struct PointKey {
  void (*set)(Noun&, Point2);
};

/// A storey by name; given by its position.
template <typename Noun>
struct StoreyKey {
  void (*set)(Noun&, std::size_t);
};

/// A word of a closed set; given by its position in it.
template <typename Noun>
struct WordKey {
  std::vector<std::string> (*words)();
  void (*set)(Noun&, std::size_t);
};

template <typename Noun>
struct EditKey {
  std::string_view key;
  std::variant<NumberKey<Noun>, NameKey<Noun>, FlagKey<Noun>, PointKey<Noun>, StoreyKey<Noun>, WordKey<Noun>>
      rule;
  /// Why this one cannot take the key, or an empty text; nullptr: every one can.
  std::string (*refuse)(const Noun&) = nullptr;
};

/// The keys of a noun; defined for each noun of edit_places.cpp.
template <typename Noun>
std::span<const EditKey<Noun>> edit_keys();

}  // namespace linkmargin::edits
