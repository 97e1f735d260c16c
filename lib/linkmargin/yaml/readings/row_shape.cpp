#include "linkmargin/yaml/readings/row_shape.hpp"

#include <algorithm>
#include <string>
#include <utility>

namespace linkmargin::yaml {

bool fits(const ReadingsHeader& header, const CsvRecord& record) {
  const bool goes_on = record.count > header.width && record.filled <= header.width;
  return record.count == header.width || (goes_on && header.separator != ',');
}

void report_nameless(const ReadingsHeader& header, const CsvRecord& record, std::size_t position,
                     Faults& faults) {
  if (record.filled <= header.columns.size()) return;
  const std::size_t last = record.fields.size() - 1;  // what stands in fields that are not kept is told there
  const auto from = static_cast<std::ptrdiff_t>(std::min(header.columns.size(), last));
  const auto first = std::find_if(record.fields.begin() + from, record.fields.end() - 1,
                                  [](const CsvField& field) { return !field.sound || !field.text.empty(); });
  faults.add(first->mark, DiagnosticCode::unknown_key, "/" + std::to_string(position),
             "a value in a column without a name", "name its column in the header, or take it out");
}

void report_count(const ReadingsHeader& header, const CsvRecord& record, std::size_t position,
                  Faults& faults) {
  if (!record.sound()) return;  // where its fields end is not known
  const std::string counts = "the header has " + std::to_string(header.width) +
                             (header.width == 1 ? " field" : " fields") + ", this row " +
                             std::to_string(record.count);
  const bool more = record.count > header.width;
  const std::string path = "/" + std::to_string(position);
  if (!more && report_two_ways(record, header.separator, path, counts, faults)) return;
  const std::string separator = separator_name(header.separator);
  std::string hint = more ? "text with a " + separator + " takes quotation marks"
                          : "an empty field still has its " + separator;
  if (more && header.separator == ',') hint += ", and so do decimals with one";
  const bool kept = more && header.width < record.fields.size();
  faults.add(kept ? record.fields[header.width].mark : record.mark(), DiagnosticCode::wrong_count, path,
             counts, std::move(hint));
}

}  // namespace linkmargin::yaml
