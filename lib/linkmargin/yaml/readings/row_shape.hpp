#pragma once

#include "linkmargin/yaml/readings/readings_header.hpp"

#include <cstddef>

namespace linkmargin::yaml {

/// Whether a row has the fields of its header. It may go on with empty ones, but not where the decimal comma
/// of a number may have made one more.
bool fits(const ReadingsHeader& header, const CsvRecord& record);

/// Tells how many fields a row that does not fit has.
/// @param position  among the readings, as of report_nameless()
void report_count(const ReadingsHeader& header, const CsvRecord& record, std::size_t position,
                  Faults& faults);

/// Tells of what stands under the empty columns at the end.
void report_nameless(const ReadingsHeader& header, const CsvRecord& record, std::size_t position,
                     Faults& faults);

}  // namespace linkmargin::yaml
