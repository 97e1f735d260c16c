#include "output/watched_plan.hpp"

#include "linkmargin/yaml/tree/text_file.hpp"

#include "output/output.hpp"
#include "support/input.hpp"

#include <chrono>
#include <optional>
#include <sys/stat.h>
#include <thread>
#include <tuple>

namespace linkmargin::cli {
namespace {

constexpr std::chrono::milliseconds kPause{300};

/// What changes when a file is written.
using Stamp = std::tuple<ino_t, off_t, time_t, long>;

std::optional<Stamp> stamp_of(const std::string& file) {
  struct stat status {};
  if (::stat(file.c_str(), &status) != 0) return {};
  return Stamp{status.st_ino, status.st_size, status.st_mtim.tv_sec, status.st_mtim.tv_nsec};
}

}  // namespace

void watch(const std::string& file, const std::function<void(const std::string& text)>& draw) {
  std::optional<Stamp> drawn = stamp_of(file);
  draw(read_text(file));
  for (;; std::this_thread::sleep_for(kPause)) {
    const auto now = stamp_of(file);
    if (!now || now == drawn) continue;
    const auto text = read_text_file(file);
    if (!text) continue;
    drawn = now;
    try {
      draw(*text);
    } catch (const Failure& failure) {  // such as a storey of --storey that is being typed
      say_failure(failure);
    }
  }
}

}  // namespace linkmargin::cli
