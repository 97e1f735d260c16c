#pragma once

#include "linkmargin/text/csv_text.hpp"

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace linkmargin::yaml {

/// The columns of a readings file.
inline constexpr std::array<std::string_view, 10> kReadingColumns{
    "device", "hub", "reading_percent", "level_dbm", "doors", "x_m", "y_m", "storey", "height_m", "note"};

/// Those of a place other than the device's: all of them or none.
inline constexpr std::array<std::string_view, 4> kPlaceColumns{"x_m", "y_m", "storey", "height_m"};

/// The header of a readings file.
struct ReadingsHeader {
  /// What each field of a row is, in the order of the file: one of kReadingColumns, or empty for a column
  /// that is not read. Empty columns at the end are left out.
  std::vector<std::string_view> columns;
  std::size_t width = 0;  ///< how many fields a row has, those of empty columns included
  char separator = ',';
};

/// Letter case and blanks about a name do not count. A mistyped column is taken as the one that it was meant
/// to be, so that the faults of its fields are found too. Nothing, with its fault, when the row is no header:
/// it is separated two ways, or names neither a device nor a value.
std::optional<ReadingsHeader> read_readings_header(const CsvRecord& record, char separator, Faults& faults);

}  // namespace linkmargin::yaml
