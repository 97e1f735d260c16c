#pragma once

#include <chrono>
#include <cstdint>
#include <string>

namespace linkmargin::cli {

/// A line on the error stream that says how far a long task is ("map: 40 %"): on a terminal alone, not before
/// a second has passed, and wiped when the task ends, however it ends.
class ProgressLine {
 public:
  explicit ProgressLine(std::string task);
  ~ProgressLine();
  ProgressLine(const ProgressLine&) = delete;
  ProgressLine& operator=(const ProgressLine&) = delete;

  /// @param share of the task that is done, 0 to 1. Calls come one at a time, from any thread.
  void show(double share);

  /// The same with how many are done in a second and how long the rest takes at that rate.
  void show_rate(std::uint64_t done, std::uint64_t all);

 private:
  void show(double share, const std::string& rest);

  std::string task_;
  std::chrono::steady_clock::time_point begin_;
  std::chrono::steady_clock::time_point shown_;  // when the line was shown last
  bool on_terminal_;
  int percent_ = -1;       // shown last
  std::size_t width_ = 0;  // of what was shown
};

}  // namespace linkmargin::cli
