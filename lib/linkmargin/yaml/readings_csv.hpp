#pragma once

#include "linkmargin/base/result.hpp"
#include "linkmargin/site/reading.hpp"
#include "linkmargin/site/site.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace linkmargin {

/// Reads a file of readings (RFC 4180, a header row, columns in any order; docs/site-file.md, "Readings").
/// @param text       the bytes of the file: UTF-8, with or without a byte-order mark, any line ends
/// @param file_name  as the person named it, for the faults
/// @param site       sound by validate(); readings name its devices, hubs and storeys
/// @return at least one reading, in the order of the file, or every fault of the file by line and column. A
///         fault's path is the JSON Pointer into the list of readings: "/3/level_dbm". Bytes that are no text
///         and a first row that is no header give one fault.
Result<std::vector<Reading>> parse_readings(std::string_view text, const std::string& file_name,
                                            const Site& site);

}  // namespace linkmargin
