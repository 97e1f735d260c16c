#include "linkmargin/yaml/fields/field_reader.hpp"

#include "linkmargin/base/length_unit.hpp"
#include "linkmargin/base/nearest_name.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/site/limits.hpp"

#include <algorithm>

namespace linkmargin::yaml {

namespace {

/// "brick 0.215 m", "brick 8 1/2 in": a name, and a thickness where the text ends in one.
Construction read_written_construction(const Cursor& cursor, Faults& faults) {
  const std::string text = read_name(cursor, faults).value_or("");
  for (auto blank = text.find(' '); blank != std::string::npos; blank = text.find(' ', blank + 1)) {
    const auto thickness_m = parse_length_m(text.substr(blank + 1));
    if (!thickness_m) continue;
    if (!limits::kThicknessM.contains(*thickness_m)) {
      add_fault(cursor, DiagnosticCode::outside_range,
                "a thickness of " + text.substr(blank + 1) + " is outside " +
                    shortest_text(limits::kThicknessM.min) + ".." + shortest_text(limits::kThicknessM.max) +
                    " m",
                "", faults);
    }
    return {.material = text.substr(0, blank), .thickness_m = thickness_m};
  }
  return {.material = text, .thickness_m = {}};
}

}  // namespace

Construction read_construction(const Cursor& cursor, Faults& faults) {
  if (cursor.node().kind == Node::Kind::scalar) return read_written_construction(cursor, faults);
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
