#pragma once

#include "row_journal.hpp"

#include <cstdint>
#include <functional>
#include <string>
#include <string_view>

namespace linkmargin::cli {

/// How rows stand in the file.
struct RowLayout {
  std::string header;  ///< with its end; empty: none
  std::string_view line_end;
  /// The run of a whole row without its end; 0 when it is none. Called for every row that stays.
  std::function<std::uint64_t(std::string_view line)> run_of;
};

/// A file to which rows are added at its end, with a journal beside it ("FILE.journal") that says whose rows
/// they are and whether all are there. Rows are in the order of their runs, so that the file itself tells how
/// far it came: however a process ended, the rows that are whole stay and the next one follows.
class RowFile {
 public:
  /// Begins a file, or with `resume` takes up one at the first row that is missing: a row in pieces is cut
  /// off. Without a file there is nothing to resume, and it is begun.
  /// @throws Failure when it cannot be read or written, another process writes it, it is not of this plan, or
  /// without `resume` rows of an unfinished one would be lost
  RowFile(std::string file, const RowPlan& plan, const RowLayout& layout, bool resume);
  ~RowFile();
  RowFile(const RowFile&) = delete;
  RowFile& operator=(const RowFile&) = delete;

  std::uint64_t next_run() const { return next_run_; }  ///< last_run + 1 when all are there

  /// Adds whole rows. @throws Failure when there is no room: what was added before stays
  void add(std::string_view rows, std::uint64_t count);

  /// All rows are there.
  void finish();

 private:
  void open();
  void refuse_other_plan(bool resume) const;
  void take_up(const RowLayout& layout);
  [[noreturn]] void fail(int error) const;

  std::string file_;
  RowPlan plan_;
  int descriptor_ = -1;
  std::uint64_t next_run_;
  std::int64_t synced_at_s_ = 0;
};

}  // namespace linkmargin::cli
