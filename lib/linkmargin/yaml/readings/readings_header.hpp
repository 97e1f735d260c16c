#pragma once

#include "linkmargin/text/csv_text.hpp"

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace linkmargin::yaml {

/// The columns of a readings file.
inline constexpr std::array<std::string_view, 12> kReadingColumns{
    "device", "hub", "via", "reading_percent", "level_dbm", "doors",
    "taken",  "x_m", "y_m", "storey",          "height_m",  "note"};

/// Columns of the sheet that readings_sheet() makes which tell the reader where to go, and are not read back.
inline constexpr std::array<std::string_view, 1> kGuideColumns{"room"};

/// Those of a place other than the device's, all of them or none. The height alone is no place: the sheet has
/// it as a guide.
inline constexpr std::array<std::string_view, 4> kPlaceColumns{"x_m", "y_m", "storey", "height_m"};
inline constexpr std::array<std::string_view, 3> kPlanColumns{"x_m", "y_m", "storey"};

/// The header of a readings file.
struct ReadingsHeader {
  /// What each field of a row is, in the order of the file: one of kReadingColumns, or empty for a column
  /// that is not read. Empty columns at the end are left out.
  std::vector<std::string_view> columns;
  std::size_t width = 0;  ///< how many fields a row has, those of empty columns included
  char separator = ',';
  std::vector<std::string> ignored{};  ///< columns that nobody knows, as they are written, each once
};

/// Letter case and blanks about a name do not count, a unit may stand in brackets or apart ("Reading %",
/// "Level (dBm)"), and some columns have a second name ("Notes"). A column that is one slip from a known one
/// that is not there is a fault, since what it holds would be lost, and is taken as the one that it was meant
/// to be, so that the faults of its fields are found too. Any other column is ignored. Nothing, with its
/// fault, when the row is no header: it is separated two ways, or names neither a device nor a value.
std::optional<ReadingsHeader> read_readings_header(const CsvRecord& record, char separator, Faults& faults);

}  // namespace linkmargin::yaml
