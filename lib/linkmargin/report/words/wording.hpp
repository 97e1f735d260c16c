#pragma once

#include "linkmargin/messages/language.hpp"
#include "linkmargin/site/site.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace linkmargin {

/// How a medium sets names and figures.
struct Typesetting {
  std::string (*name)(std::string_view);  ///< what a name that somebody chose stands as
  std::string_view space;                 ///< between a number and its unit
};

/// A terminal: names as they are.
extern const Typesetting kPlainText;

/// So many names a sentence lists, where it has no reason for fewer.
inline constexpr std::size_t kNamesListed = 6;

/// Puts sentences of the catalogue: in a language, for a medium. One figure is shown one way everywhere.
class Wording {
 public:
  /// @param language outlives this
  explicit Wording(const Language& language, const Typesetting& typesetting = kPlainText)
      : language_(&language), typesetting_(&typesetting) {}

  const Language& language() const { return *language_; }

  std::string say(std::string_view key, Language::Places places = {}) const {
    return language_->say(key, places);
  }
  std::string counted(std::string_view key, std::size_t count, Language::Places places = {}) const {
    return language_->counted(key, count, places);
  }

  std::string name(std::string_view chosen) const { return typesetting_->name(chosen); }

  /// "a", "a and b", "a, b and 7 more", each by name().
  std::string names(const std::vector<std::string>& chosen, std::size_t most = kNamesListed) const;

  /// The same of texts that are put already.
  std::string listed(const std::vector<std::string>& texts, std::size_t most = kNamesListed) const {
    return language_->listed(texts, most);
  }

  std::string number(double value, int decimals) const { return language_->number(value, decimals); }
  std::string number(double value) const { return language_->number(value); }  ///< as short as it can be

  /// "12.3 dB"
  std::string with_unit(double value, int decimals, std::string_view unit) const;
  std::string with_unit(double value, std::string_view unit) const;  ///< as short as it can be

  std::string decibels(double db) const { return with_unit(db, 1, "dB"); }

  /// "35 cm", "2.3 m"; under 2 cm with a decimal. In feet to an inch, under a metre to half of one.
  std::string length(double length_m) const;

  /// A reading as a whole number, never on the wrong side of the threshold, without its unit: "29".
  std::string percent(double percent, double threshold) const;

  /// A probability in a sentence: "82 in 100"; at the ends "under 1 in 100", "over 99 in 100".
  std::string chance(double probability) const;

  /// The same in a table: "82", "<1", ">99".
  std::string chance_figure(double probability) const;

  /// "shop (ground)"; "outside (ground)" in no room.
  std::string room(const Site& site, const Placement& place) const;

  /// "(4.3, 0.15)": to the centimetre; in feet to a hundredth.
  std::string spot(Point2 at) const;

  /// "the hub" where there is one, else "hub garage".
  std::string hub(const Site& site, std::string_view name) const;

  /// "shop (ground), on the left wall, 1.2 m from the bottom corner, 2 m up, at (0.1, 1.2)"
  std::string place(const Site& site, const Placement& place) const;

 private:
  /// "on the left wall, 1.2 m from the bottom corner, 2 m up"
  std::string where(const Site& site, const Placement& place) const;

  const Language* language_;
  const Typesetting* typesetting_;
};

}  // namespace linkmargin
