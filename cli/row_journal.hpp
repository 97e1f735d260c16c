#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace linkmargin::cli {

/// What every byte of a file of rows hangs on.
struct RowPlan {
  std::uint64_t fingerprint = 0;  ///< of all that is read and asked for
  std::uint64_t first_run = 1;
  std::uint64_t last_run = 0;
  std::uint64_t all_runs = 0;  ///< of all shards
  friend bool operator==(const RowPlan&, const RowPlan&) = default;
};

/// What stands beside a file of rows, in "FILE.journal".
struct Journal {
  RowPlan plan;
  bool ended = false;
};

/// @param ended  all rows are there
void write_journal(const std::string& file, const RowPlan& plan, bool ended);

/// That of a file of rows; nothing when there is none.
/// @throws Failure when it cannot be read or is no journal
std::optional<Journal> read_journal(const std::string& file);

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

}  // namespace linkmargin::cli
