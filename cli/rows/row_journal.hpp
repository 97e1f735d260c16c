#pragma once

#include "output/descriptor.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <sys/types.h>

namespace linkmargin::cli {

/// What every byte of a file of rows hangs on.
struct RowPlan {
  std::uint64_t fingerprint = 0;  ///< of all that is read and asked for
  std::uint64_t first_run = 1;
  std::uint64_t last_run = 0;
  std::uint64_t all_runs = 0;  ///< of all shards

  std::uint64_t rows() const { return last_run + 1 - first_run; }
  friend bool operator==(const RowPlan&, const RowPlan&) = default;
};

/// Rows that follow each other in a file, and what tells that they are still the same.
struct RowBlock {
  std::uint64_t rows = 0;  ///< of runs, each of one line or more; 0: the header
  std::uint64_t bytes = 0;
  std::uint32_t checksum = 0;  ///< CRC-32, as in ISO 3309
  friend bool operator==(const RowBlock&, const RowBlock&) = default;
};

/// @param rows  how many the text holds; 0 for a header
RowBlock row_block(std::string_view text, std::uint64_t rows);

/// Where the journal of a file of rows stands: beside it.
std::string journal_of(const std::string& file);

/// What a journal begins with, a line for each block, and what ends it when all rows are there.
std::string journal_head(const RowPlan& plan);
std::string journal_line(const RowBlock& block);
inline constexpr std::string_view kJournalEnd = "all rows are there\n";

/// The lines of a file from its start.
class Lines {
 public:
  Lines(int descriptor, std::string file) : descriptor_(descriptor), file_(std::move(file)) {}

  /// A line with its '\n'; nothing at the end of the file and of what has no '\n'.
  /// @throws Failure when the file cannot be read
  std::optional<std::string_view> next();

 private:
  int descriptor_;
  std::string file_;
  std::string text_;
  std::size_t begin_ = 0;
};

/// Reads the journal of a file of rows, block by block: it may be long.
class JournalReader {
 public:
  /// @return nothing when there is none. @throws Failure when it cannot be read or is no journal
  static std::optional<JournalReader> open(const std::string& file);

  const RowPlan& plan() const { return plan_; }

  /// The next block; nothing when there is none, or what follows is no whole line of a journal.
  std::optional<RowBlock> next();

  /// Whether all rows are there, as far as the journal knows: after the last block.
  bool ended() const { return ended_; }

  /// How long the journal is up to the last block that was read.
  off_t size() const { return size_; }

 private:
  JournalReader(Descriptor descriptor, std::string name);
  void read_head();

  Descriptor descriptor_;
  std::string name_;
  Lines lines_;
  RowPlan plan_;
  bool ended_ = false;
  off_t size_ = 0;
};

/// Writes the journal of a file of rows while these are made.
class JournalWriter {
 public:
  /// Begins one: without blocks. @throws Failure
  static JournalWriter begin(const std::string& file, const RowPlan& plan);

  /// Goes on with one. @param size  of it that stays
  static JournalWriter take_up(const std::string& file, off_t size);

  /// @return 0, or the error of the system: nothing was added then
  int add(std::string_view line) const;
  int sync() const;

 private:
  explicit JournalWriter(const std::string& file);

  Descriptor descriptor_;
};

}  // namespace linkmargin::cli
