#include "linkmargin/yaml/readings/readings_header.hpp"

#include "linkmargin/base/joined.hpp"
#include "linkmargin/base/letter_case.hpp"
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

/// What people call some columns.
constexpr std::array kOtherNames{
    std::pair<std::string_view, std::string_view>{"device_name", "device"},
    std::pair<std::string_view, std::string_view>{"reading", "reading_percent"},
    std::pair<std::string_view, std::string_view>{"percent", "reading_percent"},
    std::pair<std::string_view, std::string_view>{"level", "level_dbm"},
    std::pair<std::string_view, std::string_view>{"door", "doors"},
    std::pair<std::string_view, std::string_view>{"height", "height_m"},
    std::pair<std::string_view, std::string_view>{"notes", "note"},
    std::pair<std::string_view, std::string_view>{"remark", "note"},
    std::pair<std::string_view, std::string_view>{"remarks", "note"},
    std::pair<std::string_view, std::string_view>{"comment", "note"},
    std::pair<std::string_view, std::string_view>{"comments", "note"},
};

/// In small letters, % as a word, and one underscore for each row of blanks, brackets and underscores between
/// words: "Reading [%]" as "reading_percent".
std::string plain_name(std::string_view written) {
  constexpr std::string_view between = " \t_()[]";
  std::string plain;
  bool apart = false;
  for (std::size_t i = 0; i < written.size();) {
    const std::size_t blank = blank_at(written, i);
    if (blank > 0 || between.find(written[i]) != between.npos) {
      apart = true;
      i += std::max<std::size_t>(blank, 1);
      continue;
    }
    const bool percent = written[i] == '%';
    if ((apart || percent) && !plain.empty()) plain += '_';
    apart = percent;
    plain += percent ? "percent" : std::string(1, lower_case(written[i]));
    ++i;
  }
  return plain;
}

std::string column_name(const CsvField& field) {
  const std::string plain = plain_name(trimmed(unwrapped(field.text)));
  const auto* other =
      std::ranges::find(kOtherNames, plain, &std::pair<std::string_view, std::string_view>::first);
  return other == kOtherNames.end() ? plain : std::string(other->second);
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

/// Whether one letter is changed, too much or missing, or two neighbours are swapped. Names of columns are
/// short: with more than that, many a column of another kind would be near one ("zone" and "note").
bool is_slip(std::string_view written, std::string_view meant) {
  const auto [left, right] = std::ranges::mismatch(written, meant);
  written.remove_prefix(static_cast<std::size_t>(left - written.begin()));
  meant.remove_prefix(static_cast<std::size_t>(right - meant.begin()));
  while (!written.empty() && !meant.empty() && written.back() == meant.back()) {
    written.remove_suffix(1);
    meant.remove_suffix(1);
  }
  const bool swapped =
      written.size() == 2 && meant.size() == 2 && written[0] == meant[1] && written[1] == meant[0];
  return swapped || (written.size() <= 1 && meant.size() <= 1);
}

/// Tells of each column that is nearly a known one that is not there, and takes it as that.
/// @return the columns that are none, to be ignored
std::vector<std::string> report_unknown(const CsvRecord& record, Columns& columns, Faults& faults) {
  std::vector<std::string> ignored;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    const CsvField& field = record.fields[i];
    const std::string name = column_name(field);
    if (!field.sound || holds(kReadingColumns, name) || holds(kGuideColumns, name)) continue;
    if (trimmed(unwrapped(field.text)).empty()) {
      faults.add(field.mark, with_names_listed("a column without a name"));
      continue;
    }
    const auto* near =
        std::ranges::find_if(kReadingColumns, [&](std::string_view known) { return is_slip(name, known); });
    if (near == kReadingColumns.end() || holds(columns, *near)) {
      if (std::ranges::find(ignored, field.text) == ignored.end()) ignored.push_back(field.text);
      continue;
    }
    faults.add(field.mark, DiagnosticCode::unknown_key, "", "unknown column " + quoted(field.text),
               "did you mean '" + std::string(*near) + "'?");
    columns[i] = *near;
  }
  return ignored;
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
  if (std::ranges::none_of(kPlanColumns, there)) return;
  for (const std::string_view column : kPlaceColumns) {
    if (!there(column)) add("missing column " + quoted(column), joined(kPlaceColumns) + " go together");
  }
}

}  // namespace

std::optional<ReadingsHeader> read_readings_header(const CsvRecord& record, char separator, Faults& faults) {
  if (report_two_ways(record, separator, "", "one file takes one separator", faults)) return {};
  Faults found = faults;  // kept only where this is a header
  Columns columns = named_columns(record, found);
  std::vector<std::string> ignored = report_unknown(record, columns, found);
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
  return ReadingsHeader{std::move(columns), record.count, separator, std::move(ignored)};
}

}  // namespace linkmargin::yaml
