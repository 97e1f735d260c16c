#include "linkmargin/yaml/site/field_reader.hpp"

#include "linkmargin/base/nearest_name.hpp"

#include <algorithm>

namespace linkmargin::yaml {

Construction read_construction(const Cursor& cursor, Faults& faults) {
  return read_noun<Construction>(cursor, std::string(cursor.key()), faults);
}

std::optional<std::size_t> read_storey(const Cursor& cursor, const StoreyNames& storeys, Faults& faults) {
  const auto name = read_name(cursor, faults);
  if (!name) return {};
  const auto found = std::ranges::find(storeys.names, *name);
  if (found != storeys.names.end()) return static_cast<std::size_t>(found - storeys.names.begin());
  if (storeys.known) {
    faults.add(cursor.mark(), DiagnosticCode::unknown_name, cursor.pointer(),
               "unknown storey " + quoted(*name), faults.full() ? "" : nearest_hint(*name, storeys.names));
  }
  return {};
}

}  // namespace linkmargin::yaml
