#include "linkmargin/yaml/readings/readings_header.hpp"

#include "linkmargin/base/joined.hpp"
#include "linkmargin/base/letter_case.hpp"
#include "linkmargin/base/nearest_name.hpp"
#include "linkmargin/text/blanks.hpp"
#include "linkmargin/text/sheet_number.hpp"

#include <algorithm>
#include <span>
#include <utility>

namespace linkmargin::yaml {
namespace {

/// A header has one of these at least.
constexpr std::array<std::string_view, 3> kTellingColumns{"device", "reading_percent", "level_dbm"};

using Columns = std::vector<std::string_view>;

bool holds(std::span<const std::string_view> columns, std::string_view column) {
  return std::ranges::find(columns, column) != columns.end();
}

std::string column_name(const CsvField& field) {
  return lower_case(trimmed(unwrapped(field.text)));
}

/// The known columns as they are named, each the first time; empty where a name is unknown or stands twice.
Columns named_columns(const CsvRecord& record, Faults& faults) {
  Columns columns;
  const std::size_t count = std::min(record.filled, record.fields.size());
  for (const CsvField& field : std::span(record.fields).first(count)) {
    const auto known = std::ranges::find(kReadingColumns, column_name(field));
    if (!field.sound || known == kReadingColumns.end()) {
      columns.emplace_back();
      continue;
    }
    const auto first = std::ranges::find(columns, *known);
    if (first != columns.end()) {
      faults.add(field.mark, DiagnosticCode::given_twice, "", "duplicate column " + quoted(field.text),
                 "it is column " + std::to_string(first - columns.begin() + 1) + " already");
    }
    columns.push_back(first == columns.end() ? *known : std::string_view());
  }
  return columns;
}

Diagnostic with_names_listed(std::string message) {
  Diagnostic fault;
  fault.code = DiagnosticCode::unknown_key;
  fault.message = std::move(message);
  fault.hint = "known are: " + joined(kReadingColumns);
  fault.lists_names = true;
  return fault;
}

/// Tells of each unknown column, and takes it as the nearest known one that is not there.
void report_unknown(const CsvRecord& record, Columns& columns, Faults& faults) {
  const std::vector<std::string> known(kReadingColumns.begin(), kReadingColumns.end());
  for (std::size_t i = 0; i < columns.size(); ++i) {
    const CsvField& field = record.fields[i];
    const std::string name = column_name(field);
    if (!field.sound || holds(kReadingColumns, name)) continue;
    if (name.empty()) {
      faults.add(field.mark, with_names_listed("a column without a name"));
      continue;
    }
    const auto near = nearest_name(name, known);
    Diagnostic fault = with_names_listed("unknown column " + quoted(field.text));
    if (near) {
      fault.hint = "did you mean '" + *near + "'?";
      fault.lists_names = false;
    }
    faults.add(field.mark, std::move(fault));
    if (near && !holds(columns, *near)) columns[i] = *std::ranges::find(kReadingColumns, *near);
  }
}

void report_missing(const CsvRecord& record, const Columns& columns, Faults& faults) {
  if (!record.sound()) return;  // one of those that cannot be read may be it
  const auto add = [&](std::string message, std::string hint = {}) {
    faults.add(record.mark(), DiagnosticCode::missing_key, "", std::move(message), std::move(hint));
  };
  if (!holds(columns, "device")) add("missing column 'device'");
  if (!holds(columns, "reading_percent") && !holds(columns, "level_dbm")) {
    add("missing one of the columns reading_percent, level_dbm");
  }
  const auto there = [&](std::string_view column) { return holds(columns, column); };
  if (std::ranges::none_of(kPlaceColumns, there)) return;
  for (const std::string_view column : kPlaceColumns) {
    if (!there(column)) add("missing column " + quoted(column), joined(kPlaceColumns) + " go together");
  }
}

}  // namespace

std::optional<ReadingsHeader> read_readings_header(const CsvRecord& record, char separator, Faults& faults) {
  if (report_two_ways(record, separator, "", "one file takes one separator", faults)) return {};
  Faults found = faults;  // kept only where this is a header
  Columns columns = named_columns(record, found);
  report_unknown(record, columns, found);
  // A row of data may well begin with a hub that is called hub, so that one column is not enough.
  const bool header =
      std::ranges::any_of(kTellingColumns, [&](auto column) { return holds(columns, column); });
  if (!header && record.sound()) {
    faults.add(record.mark(), DiagnosticCode::missing_key, "",
               "the first row names none of the columns " + joined(kTellingColumns),
               "it is the header; known columns are: " + joined(kReadingColumns));
  }
  if (!header) return {};
  report_missing(record, columns, found);
  faults = std::move(found);
  return ReadingsHeader{std::move(columns), record.count, separator};
}

}  // namespace linkmargin::yaml
