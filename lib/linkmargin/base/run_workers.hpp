#pragma once

#include <cstddef>
#include <system_error>
#include <thread>
#include <vector>

namespace linkmargin {

/// Calls work(w) for each w below count, each on a thread of its own, and waits for all of them. Where the
/// system has no more threads to give, those that it gave do the work; where it has none, work(0) is called
/// here. So the work must be such that any number of workers does all of it. It must not throw.
template <typename Work>
void run_workers(std::size_t count, const Work& work) {
  std::vector<std::jthread> pool;
  pool.reserve(count);
  try {
    for (std::size_t w = 0; w < count; ++w) pool.emplace_back([&work, w] { work(w); });
  } catch (const std::system_error&) {
    if (pool.empty()) work(0);
  }
}

}  // namespace linkmargin
