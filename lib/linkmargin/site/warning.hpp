#pragma once

#include "linkmargin/site/part_name.hpp"
#include "linkmargin/site/warning_code.hpp"

#include <compare>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace linkmargin {

/// A name to be shown in marks of quotation.
struct Quoted {
  std::string name;
  bool operator==(const Quoted&) const = default;
};

/// Names in marks of quotation, the last after an "and"; of more than `most` the count of the others.
struct QuotedList {
  std::vector<std::string> names;
  std::size_t most = 6;
  bool operator==(const QuotedList&) const = default;
};

/// The same of parts of a building.
struct PartList {
  std::vector<PartName> parts;
  std::size_t most = 6;
  bool operator==(const PartList&) const = default;
};

/// Names as they are, with commas between, all of them.
struct NameList {
  std::vector<std::string> names;
  bool in_sentence = false;  ///< the last after an "and"
  bool operator==(const NameList&) const = default;
};

/// A number with so many decimals; absent: as many as it has.
struct Figure {
  double value = 0;
  std::optional<int> decimals{};
  bool operator==(const Figure&) const = default;
};

/// A length, said with its unit; decimals of metres.
struct LengthFigure {
  double length_m = 0;
  std::optional<int> decimals{};
  bool operator==(const LengthFigure&) const = default;
};

/// A material and the frequencies that its figures are stated for.
struct StatedBand {
  std::string material;
  double min_hz = 0;
  double max_hz = 0;
  auto operator<=>(const StatedBand&) const = default;
};

/// What goes to a place of the sentence.
struct WarningArgument {
  std::string_view place;
  std::variant<std::string, Quoted, QuotedList, PartList, NameList, Figure, LengthFigure, PartName,
               std::vector<StatedBand>>
      value;
  bool operator==(const WarningArgument&) const = default;
};

/// A sentence for people, before it is said in a language.
struct Warning {
  WarningCode code{};
  std::vector<WarningArgument> arguments{};
  std::string radio{};                 ///< the hub, repeater or device that it is about; empty: none
  std::vector<std::string> storeys{};  ///< the storeys that it is about; both empty: the whole site
  std::string of_device{};  ///< in a list of many links: whose; empty: of all, or it says so itself
  bool operator==(const Warning&) const = default;
};

/// Adds what is not there yet.
void add_once(std::vector<Warning>& warnings, const std::vector<Warning>& more);

}  // namespace linkmargin
