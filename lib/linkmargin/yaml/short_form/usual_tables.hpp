#pragma once

#include "linkmargin/site/layout/usual.hpp"
#include "linkmargin/yaml/tree/object_reader.hpp"

#include <string_view>

namespace linkmargin {

/// data/opening-kinds.yaml, read on first use; safe from any thread.
/// @throws std::logic_error when it cannot be read, which is a defect
const layout::OpeningKinds& opening_kinds();

/// The same of data/constructions.yaml.
const layout::HouseConstructions& house_constructions();

namespace yaml {

/// The row that a name leads to; nullptr and a fault where there is none.
const layout::OpeningKind* read_opening_kind(const Cursor& name, Faults& faults);
const layout::HouseConstruction* read_house(const Cursor& name, Faults& faults);

/// Of some names the longest that another name is or ends in, as a word of its own: "smoke" of "hall smoke".
/// Empty: none.
template <typename Names>
std::string_view kind_in_name(const Names& names, std::string_view name) {
  std::string_view best;
  for (const auto& row : names) {
    const std::string_view kind = row.first;
    const bool whole = name == kind;
    const bool ends =
        name.size() > kind.size() && name.ends_with(kind) && name[name.size() - kind.size() - 1] == ' ';
    if ((whole || ends) && kind.size() > best.size()) best = kind;
  }
  return best;
}

}  // namespace yaml
}  // namespace linkmargin
