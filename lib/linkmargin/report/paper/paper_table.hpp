#pragma once

#include "linkmargin/report/page/page_model.hpp"
#include "linkmargin/report/paper/page_flow.hpp"

#include <optional>
#include <string>
#include <vector>

// Inside report/ only: tables on paper.
namespace linkmargin::paper {

struct PaperColumn {
  std::string title;
  double share = 1;     ///< of the width, to those of the others
  bool figure = false;  ///< to the right
};

struct PaperRow {
  std::vector<std::string> cells;            ///< one a column
  std::optional<page::Standing> standing{};  ///< its sign stands before the first cell
};

/// Rows that go on on the next page under the same heads.
void add_table(PageFlow& flow, const page::PageModel& content, const std::vector<PaperColumn>& columns,
               const std::vector<PaperRow>& rows);

}  // namespace linkmargin::paper
