#pragma once

#include "linkmargin/analysis/what_if/what_if.hpp"

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace linkmargin {

enum class RowFormat { csv, json_lines };

/// What is read back of a row.
struct WhatIfFigures {
  std::uint64_t run = 0;
  double worst_reading_percent = 0;
  std::size_t weak_count = 0;
};

/// The runs of a WhatIf as lines of text, for programs: CSV as write_csv() has it, or an object of JSON a
/// line (JSON Lines). A row of a run hangs on nothing but that run, so that rows may be written in pieces.
///
/// Columns: run, site, case, draw, each swept path, worst_device, worst_reading_percent,
/// worst_pass_probability, weak_count, weak_areas, worst_change_percent, then "reading_percent: NAME" of each
/// device asked for. `case` is empty for the site as it is, `draw` for the prediction.
/// Safe to share between threads.
class WhatIfRowText {
 public:
  /// @param devices  WhatIfOptions::devices of the rows
  WhatIfRowText(const WhatIf& what_if, std::vector<std::string> devices, RowFormat format);

  /// The first line of a file with its end; JSON Lines have none.
  std::string header() const;

  /// A line a row, each with its end.
  std::string rows(std::span<const WhatIfRow> rows) const;

  std::string_view line_end() const;

  /// A line read back, without its end. @return nothing when it is no whole row of this kind
  std::optional<WhatIfFigures> figures(std::string_view line) const;

 private:
  std::string row(const WhatIfRow& row) const;
  std::string csv_row(const WhatIfRow& row) const;
  std::string json_row(const WhatIfRow& row) const;
  std::string text(std::string_view name) const;  // as the format writes it

  WhatIfRuns runs_;
  RowFormat format_;
  std::vector<std::string> sites_;
  std::vector<std::string> cases_;  // the site as it is first
  std::vector<std::string> paths_;
  std::vector<std::vector<std::string>> values_;  // by axis
  std::vector<std::string> devices_;
};

}  // namespace linkmargin
