#pragma once

#include "linkmargin/yaml/short_form/radio_places.hpp"

#include <optional>
#include <string_view>

namespace linkmargin::yaml {

/// The keys of one area beside those that its noun holds.
struct AreaKeys {
  std::optional<Cursor> rooms{};  ///< `in`
  std::optional<Cursor> size{};
  std::optional<Cursor> beside{};  ///< the first of left_of and its like
  std::optional<Cursor> shift{};

  /// Notes a key that is one of these.
  void take(std::string_view key, const Cursor& value);
};

/// Completes an area whose other keys were read: its storey and its corners by the rooms that it is or lies
/// beside. What is missing or contradicts becomes a fault.
void complete_area(const Cursor& item, const AreaKeys& keys, const PlaceIndex& index, ObjectReader& reader,
                   Area& area, Faults& faults);

}  // namespace linkmargin::yaml
