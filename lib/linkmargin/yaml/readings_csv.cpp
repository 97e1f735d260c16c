#include "linkmargin/yaml/readings_csv.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/yaml/reading_row.hpp"
#include "linkmargin/yaml/readings_header.hpp"

namespace linkmargin {
namespace yaml {
namespace {

/// The next record in which something is written.
std::optional<CsvRecord> next_filled(CsvText& records) {
  auto record = records.next();
  while (record && record->blank()) record = records.next();
  return record;
}

std::vector<Reading> read_readings(std::string_view text, const Site& site, Faults& faults) {
  const char separator = csv_separator(text);
  CsvText records(text, separator, faults);
  const auto header = next_filled(records);
  if (!header) {
    faults.add({1, 1}, "", "the file holds no readings");
    return {};
  }
  if (separator != ',') {
    faults.add(header->mark(), "",
               std::string("the fields are separated by ") + (separator == ';' ? "semicolons" : "tabs"),
               "separate them by commas, and write decimals with a point");
  }
  const auto columns = read_readings_header(*header, faults);
  if (!columns) return {};
  ReadingRows rows(*columns, site, faults);
  std::vector<Reading> readings;
  for (auto record = next_filled(records); record; record = next_filled(records)) {
    if (!limits::kReadings.contains(static_cast<double>(readings.size() + 1))) {
      faults.add(record->mark(), "",
                 "a file holds at most " + shortest_text(limits::kReadings.max) + " readings");
      return {};
    }
    readings.push_back(rows.read(*record, readings.size()));
  }
  if (readings.empty()) faults.add(header->mark(), "", "the file holds a header and no readings");
  return readings;
}

}  // namespace
}  // namespace yaml

Result<std::vector<Reading>> parse_readings(std::string_view text, const std::string& file_name,
                                            const Site& site) {
  yaml::Faults faults(file_name);
  const auto guarded = yaml::guarded_text(text, faults);
  if (!guarded) return std::move(faults).sorted();
  std::vector<Reading> readings = yaml::read_readings(*guarded, site, faults);
  if (faults.empty()) return readings;
  return std::move(faults).sorted();
}

}  // namespace linkmargin
