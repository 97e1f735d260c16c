#pragma once

#include "linkmargin/analysis/what_if/what_if.hpp"
#include "linkmargin/report/document/write_csv.hpp"

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace linkmargin {

/// How the rows of runs are written: a header and a line a row, or an object a line.
enum class RowFormat { csv, json_lines };

/// How rows are written.
struct RowStyle {
  RowFormat format = RowFormat::csv;
  CsvStyle csv{};
};

/// What is read back of the lines of a run.
struct WhatIfFigures {
  std::uint64_t run = 0;
  double worst_reading_percent = 0;
  std::size_t weak_count = 0;
};

/// The runs of a WhatIf as lines of text, for programs: CSV as write_csv() has it, or an object of JSON a
/// line (JSON Lines). The lines of a run depend on that run alone, so that they may be written in pieces.
///
/// Columns: run, site, case, draw, each swept path with underscores for its blanks, worst_device,
/// worst_reading_percent, worst_pass_probability, weak_count, weak_areas, worst_change_percent. Where devices
/// are asked for, a line for each of them instead of one a run: device, reading_percent and weak in place of
/// what the run comes to; both are empty where the run has no such device. `case` is empty for the site as it
/// is, `draw` for the prediction. Safe to share between threads.
class WhatIfRowText {
 public:
  /// @param devices  WhatIfOptions::devices of the rows
  WhatIfRowText(const WhatIf& what_if, std::vector<std::string> devices, const RowStyle& style);

  /// The first line of a file with its end; JSON Lines have none.
  std::string header() const;

  /// The lines of runs, each with its end.
  std::string rows(std::span<const WhatIfRow> rows) const;

  std::size_t lines_per_run() const;

  std::string_view line_end() const;

  /// The lines of a run read back, without their ends. @return nothing when they are none of this kind
  std::optional<WhatIfFigures> figures(std::span<const std::string_view> lines) const;

  /// The same of a run whose lines are not read back: rounded as they are.
  WhatIfFigures figures(const WhatIfRow& row) const;

 private:
  bool csv() const { return style_.format == RowFormat::csv; }
  bool long_form() const { return csv() && !devices_.empty(); }
  void add_run(CsvWriter& line, const WhatIfRow& row) const;
  void add_result(CsvWriter& line, const WhatIfRow& row) const;
  std::string csv_lines(const WhatIfRow& row) const;
  std::string json_row(const WhatIfRow& row) const;
  std::string text(std::string_view name) const;  // as the format writes it
  std::string value_text(const SweepAxis& axis, std::size_t value) const;
  std::optional<double> read_number(std::string field) const;
  std::optional<WhatIfFigures> json_figures(std::string_view line) const;

  WhatIfRuns runs_;
  RowStyle style_;
  std::vector<std::string> sites_;
  std::vector<std::string> cases_;                // the site as it is first
  std::vector<std::string> paths_;                // columns of CSV, keys of JSON
  std::vector<std::vector<std::string>> values_;  // by axis
  std::vector<std::string> devices_;
};

}  // namespace linkmargin
