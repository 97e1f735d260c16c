#pragma once

#include "linkmargin/base/result.hpp"
#include "linkmargin/site/reading.hpp"
#include "linkmargin/site/site.hpp"

#include <string>
#include <string_view>

namespace linkmargin {

/// Reads a file of readings as a spreadsheet of any country writes it (RFC 4180 with commas, semicolons or
/// tabs, a header row, columns in any order, decimals with a point or a comma;
/// docs/site-file/readings.md), or as readings_sheet() made it and people filled it in.
/// @param text       the bytes of the file: UTF-8, with or without a byte-order mark, or UTF-16 with one; any
///                   line ends
/// @param file_name  as the person named it, for the faults
/// @param site       sound by validate(); readings name its devices, hubs, repeaters and storeys
/// @return at least one reading, in the order of the file, or every fault of the file by line and column. A
///         row without a value was not read yet and gives none. A fault's path is the JSON Pointer into the
///         list of readings: "/3/level_dbm". Bytes that are no text and
///         a first row that is no header give one fault. Nothing is evaluated: "=1+1" is text.
Result<SiteReadings> parse_readings(std::string_view text, const std::string& file_name, const Site& site);

}  // namespace linkmargin
