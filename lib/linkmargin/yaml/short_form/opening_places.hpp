#pragma once

#include "linkmargin/site/building.hpp"
#include "linkmargin/yaml/short_form/storey_measures.hpp"
#include "linkmargin/yaml/tree/object_reader.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace linkmargin::yaml {

/// The keys of one opening beside those that its noun holds.
struct OpeningKeys {
  std::optional<Cursor> kind{};
  std::optional<Cursor> room{};  ///< `in`
  std::optional<Cursor> from{};  ///< the one of from_left_m and its like that is given first

  /// Notes a key that is one of these.
  void take(std::string_view key, const Cursor& value);
};

/// Completes an opening whose other keys were read: figures by its kind, its two rooms by `in` and `wall`,
/// its middle by where along the wall it is said to be. What is missing or contradicts becomes a fault.
/// @param measures  of the storey, its plan in them
void complete_opening(const Cursor& item, const OpeningKeys& keys, const Storey& storey,
                      StoreyMeasures& measures, ObjectReader& reader, Opening& opening, Faults& faults);

}  // namespace linkmargin::yaml
