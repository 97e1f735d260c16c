#pragma once

#include "linkmargin/base/run_workers.hpp"

#include <algorithm>
#include <atomic>
#include <cstddef>
#include <exception>
#include <vector>

namespace linkmargin {

/// Calls work(i) once for every i below count, on up to `threads` threads: fewer where the system gives no
/// more. The work must write only to its own place, so that the result is the same for any number of threads.
/// The first exception is thrown again here.
template <typename Work>
void parallel_for(std::size_t count, int threads, Work work) {
  const auto workers = static_cast<std::size_t>(threads > 1 ? threads : 1);
  if (workers == 1 || count < 2) {
    for (std::size_t i = 0; i < count; ++i) work(i);
    return;
  }
  std::atomic<std::size_t> next{0};
  std::vector<std::exception_ptr> failures(workers);
  run_workers(std::min(workers, count), [&](std::size_t w) {
    try {
      for (std::size_t i = next++; i < count; i = next++) work(i);
    } catch (...) {
      failures[w] = std::current_exception();
      next = count;
    }
  });
  for (const std::exception_ptr& failure : failures) {
    if (failure) std::rethrow_exception(failure);
  }
}

}  // namespace linkmargin
