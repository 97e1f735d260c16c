#include "linkmargin/yaml/readings/readings_csv.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/yaml/readings/reading_row.hpp"
#include "linkmargin/yaml/readings/readings_header.hpp"

#include <utility>

namespace linkmargin {
namespace yaml {
namespace {

/// The next record in which something is written.
std::optional<CsvRecord> next_filled(CsvText& records) {
  auto record = records.next();
  while (record && record->blank()) record = records.next();
  return record;
}

/// Whether percentages are a spreadsheet's shares: two or more lie between 0 and 1, and none over 1. No
/// equipment shows parts of a percent.
bool are_shares(const std::vector<Reading>& readings) {
  int shares = 0;
  for (const Reading& reading : readings) {
    if (!reading.percent) continue;
    if (*reading.percent > 1) return false;
    if (*reading.percent > 0 && *reading.percent < 1) ++shares;
  }
  return shares >= 2;
}

/// All readings in the order of the file.
std::vector<Reading> read_rows(ReadingRows& rows, CsvText& records, Faults& faults, const Mark& header) {
  std::vector<Reading> readings;
  std::size_t unread = 0;
  for (auto record = next_filled(records); record; record = next_filled(records)) {
    if (!limits::kReadings.contains(static_cast<double>(readings.size() + 1))) {
      faults.add(record->mark(), DiagnosticCode::too_large, "",
                 "a file holds at most " + shortest_text(limits::kReadings.max) + " readings");
      return {};
    }
    if (auto reading = rows.read(*record, readings.size())) {
      readings.push_back(std::move(*reading));
    } else {
      ++unread;
    }
  }
  rows.finish();
  if (readings.empty() && unread == 0)
    faults.add(header, DiagnosticCode::missing_key, "", "the file holds a header and no readings");
  if (readings.empty() && unread > 0)
    faults.add(header, DiagnosticCode::missing_key, "", "no reading is filled in yet");
  return readings;
}

SiteReadings read_readings(std::string_view text, const Site& site, Faults& faults) {
  const CsvLayout layout = csv_layout(text, faults);
  CsvText records(text, layout, faults);
  const auto first = next_filled(records);
  if (!first) {
    faults.add({1, 1}, DiagnosticCode::missing_key, "", "the file holds no readings");
    return {};
  }
  const auto header = read_readings_header(*first, layout.separator, faults);
  if (!header) return {};
  ReadingRows rows(*header, site, faults);
  std::vector<Reading> readings = read_rows(rows, records, faults, first->mark());
  if (are_shares(readings)) {
    faults.add(first->mark(), DiagnosticCode::impossible, "",
               "every percentage lies between 0 and 1: they are shares of 1", "write 62 for 62 %, not 0.62");
  }
  return {std::move(readings), header->ignored};
}

}  // namespace
}  // namespace yaml

Result<SiteReadings> parse_readings(std::string_view text, const std::string& file_name, const Site& site) {
  Faults faults(file_name);
  const auto guarded = decoded_sheet_text(text, faults);
  if (!guarded) return std::move(faults).sorted();
  SiteReadings readings = yaml::read_readings(*guarded, site, faults);
  if (faults.empty()) return readings;
  return std::move(faults).sorted();
}

}  // namespace linkmargin
