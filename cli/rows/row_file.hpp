#pragma once

#include "output/descriptor.hpp"
#include "rows/row_journal.hpp"

#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace linkmargin::cli {

/// How rows stand in the file.
struct RowLayout {
  std::string header;  ///< with its end; empty: none
  std::string_view line_end;
  std::size_t lines_per_run = 1;
  /// Called for the lines of every run that stays, in order, without their ends. False: they are not of it.
  std::function<bool(std::uint64_t run, std::span<const std::string_view> lines)> take_run;
};

/// A file to which rows are added at its end, with a journal beside it ("FILE.journal") that says whose rows
/// they are, what is in each block of them, and whether all are there. However a process ended, the blocks
/// that are as the journal says stay, and the next run follows.
class RowFile {
 public:
  /// Begins a file, or with `resume` takes up one after the last block that is as it was written: what
  /// follows is cut off. Without a file there is nothing to resume, and it is begun.
  /// @throws Failure when it cannot be read or written, another process writes it, it is not of this plan, it
  /// is read by the command, or without `resume` rows of an unfinished one would be lost
  RowFile(std::string file, const RowPlan& plan, const RowLayout& layout, bool resume);

  std::uint64_t next_run() const { return next_run_; }  ///< last_run + 1 when all are there

  /// How many rows were written once and are no longer what they were: lost, or changed. They are made again.
  std::uint64_t rows_lost() const { return rows_lost_; }

  /// Adds whole rows. @throws Failure when there is no room: what was added before stays
  void add(std::string_view rows, std::uint64_t count);

  /// All rows are there.
  void finish();

 private:
  void open();
  void refuse_other_plan(bool resume) const;
  void begin(const RowLayout& layout);
  void take_up(const RowLayout& layout);
  bool take_block(const RowBlock& block, std::string_view text, const RowLayout& layout);
  void sync();
  [[noreturn]] void fail(int error) const;

  std::string file_;
  RowPlan plan_;
  Descriptor descriptor_{-1};
  std::optional<JournalWriter> journal_;
  std::uint64_t next_run_;
  std::uint64_t rows_lost_ = 0;
  std::int64_t synced_at_s_ = 0;
};

/// Reads so many bytes. @return fewer where the file ends. @throws Failure when it cannot be read
std::string read_bytes(int descriptor, std::uint64_t bytes, const std::string& file);

}  // namespace linkmargin::cli
