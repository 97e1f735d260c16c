#pragma once

#include "linkmargin/site/site.hpp"
#include "linkmargin/yaml/short_form/storey_measures.hpp"
#include "linkmargin/yaml/tree/object_reader.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace linkmargin::yaml {

/// The keys of one radio beside those that its noun holds.
struct RadioPlaceKeys {
  std::optional<Cursor> room{};     ///< `in`
  std::optional<Cursor> opening{};  ///< `on`
  std::optional<Cursor> spot{};     ///< `at`

  /// Notes a key that is one of these.
  void take(std::string_view key, const Cursor& value);
};

/// Completes the place of a radio whose other keys were read: its storey, its place in plan by the room or
/// the opening that it hangs at, its height by its profile. What is missing or contradicts becomes a fault.
/// @param site      its storeys and profiles are read
/// @param measures  of each storey
void complete_place(const Cursor& radio, const RadioPlaceKeys& keys, const std::string& profile,
                    const Site& site, const std::vector<StoreyMeasures>& measures, ObjectReader& reader,
                    Placement& place, Faults& faults);

}  // namespace linkmargin::yaml
