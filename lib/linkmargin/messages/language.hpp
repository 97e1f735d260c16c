#pragma once

#include "linkmargin/base/length_unit.hpp"

#include <cstddef>
#include <initializer_list>
#include <map>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace linkmargin {

/// The words of one language. A text holds the names of its places in braces: "{device} reads {percent}".
struct LanguageWords {
  std::string tag{};                               ///< BCP 47, as a page's `lang` takes it: "de"
  std::string name{};                              ///< as its speakers write it
  std::string decimal_mark = ".";                  ///< between a number's whole part and its decimals
  std::map<std::string, std::string> texts{};      ///< by key; levels joined by '.': "gauge.weak"
  std::map<std::string, std::string> materials{};  ///< of the table, by their names in it
  friend bool operator==(const LanguageWords&, const LanguageWords&) = default;
};

/// Says things in a language.
class Language {
 public:
  /// @param unit  what its sentences say lengths in
  explicit Language(LanguageWords words, LengthUnit unit = LengthUnit::metre)
      : words_(std::move(words)), unit_(unit) {}

  /// The name of a place and what goes there.
  using Place = std::pair<std::string_view, std::string>;
  using Places = std::initializer_list<Place>;

  /// @throws DomainError on a key or a place that the language lacks: a defect, for files of languages are
  /// held
  ///         to the English one when they are read
  std::string say(std::string_view key, Places places = {}) const;
  std::string say(std::string_view key, std::span<const Place> places) const;

  /// say() of "KEY.one" or "KEY.other"; the place {count} is the number.
  std::string counted(std::string_view key, std::size_t count, Places places = {}) const;

  std::string number(double value, int decimals) const;

  /// The shortest text of the number (base/number_text.hpp).
  std::string number(double value) const;

  /// "13.1 m"; in feet "43'" without decimals, "42' 10\"" with one, to half an inch with more.
  std::string length(double length_m, int decimals) const;

  /// As short as it can be; in feet to half an inch.
  std::string length(double length_m) const;

  LengthUnit length_unit() const { return unit_; }

  /// "a", "a and b", "a, b and c"; of more than `most`, "a, b and 7 more".
  std::string listed(const std::vector<std::string>& names, std::size_t most) const;

  /// A name as marks of quotation show it.
  std::string quoted(std::string_view name) const;

  /// A material of the table, "brick 0.24 m" with its thickness; another as it is.
  std::string material(std::string_view name) const;

  const LanguageWords& words() const { return words_; }

 private:
  std::string with_mark(std::string number) const;
  std::string filled(const std::string& key, std::span<const Place> places) const;
  LanguageWords words_;
  LengthUnit unit_ = LengthUnit::metre;
};

/// The names of a text's places, in their order, each as often as it stands there.
std::vector<std::string> places_of(std::string_view text);

}  // namespace linkmargin
