#pragma once

#include "linkmargin/base/run_workers.hpp"

#include <algorithm>
#include <condition_variable>
#include <cstddef>
#include <exception>
#include <map>
#include <mutex>
#include <utility>

namespace linkmargin {

/// Makes the parts of something on up to `threads` threads and takes them one after another in their order:
/// what is taken is the same for any number of threads. Parts made early wait; at most some eight a thread.
/// @param make  make(part, worker), worker < threads: on any thread, once for each part that is begun
/// @param take  take(part, made) in order, never two at a time; false: enough, no further part is begun
/// The first exception is thrown again here; parts before it may have been taken.
template <typename Make, typename Take>
void in_order(std::size_t parts, int threads, Make make, Take take) {
  using Made = decltype(make(std::size_t{}, std::size_t{}));
  const auto workers = static_cast<std::size_t>(threads > 1 ? threads : 1);
  if (workers == 1) {
    for (std::size_t part = 0; part < parts; ++part) {
      if (!take(part, make(part, 0))) return;
    }
    return;
  }
  constexpr std::size_t ahead_each = 8;
  std::mutex mutex;
  std::condition_variable moved;
  std::map<std::size_t, Made> waiting;
  std::size_t begun = 0;
  std::size_t taken = 0;
  bool ended = false;
  std::exception_ptr failure;

  const auto end_with = [&](std::exception_ptr what) {
    if (!failure) failure = std::move(what);
    ended = true;
    moved.notify_all();
  };
  const auto work = [&](std::size_t worker) {
    std::unique_lock lock(mutex);
    while (true) {
      moved.wait(lock, [&] { return ended || begun >= parts || begun < taken + ahead_each * workers; });
      if (ended || begun >= parts) return;
      const std::size_t part = begun++;
      lock.unlock();
      try {
        Made made = make(part, worker);
        lock.lock();
        waiting.emplace(part, std::move(made));
        for (auto next = waiting.find(taken); !ended && next != waiting.end(); next = waiting.find(taken)) {
          const auto node = waiting.extract(next);
          if (!take(node.key(), std::move(node.mapped()))) return end_with({});
          ++taken;
        }
        moved.notify_all();
      } catch (...) {
        if (!lock.owns_lock()) lock.lock();
        end_with(std::current_exception());
        return;
      }
    }
  };
  run_workers(std::min(workers, parts), work);
  if (failure) std::rethrow_exception(failure);
}

}  // namespace linkmargin
