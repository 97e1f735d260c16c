#pragma once

#include <cstddef>
#include <functional>
#include <mutex>
#include <utility>

namespace linkmargin {

/// Told what share of a task is done, above 0 to 1. The calls come from any of the task's threads, one at a
/// time, and the share never falls.
using ProgressCall = std::function<void(double share)>;

/// Counts the steps of a task that several threads work at.
class Progress {
 public:
  /// @param call may be empty
  Progress(ProgressCall call, std::size_t steps) : call_(std::move(call)), steps_(steps) {}

  /// A step is done. What the call throws passes through.
  void step() {
    if (!call_) return;
    const std::lock_guard lock(mutex_);
    call_(static_cast<double>(++done_) / static_cast<double>(steps_));
  }

 private:
  ProgressCall call_;
  std::mutex mutex_;
  std::size_t done_ = 0;
  std::size_t steps_;
};

}  // namespace linkmargin
