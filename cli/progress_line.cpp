#include "progress_line.hpp"

#include <string_view>
#include <unistd.h>

namespace linkmargin::cli {
namespace {

constexpr std::chrono::seconds kPatience{1};

/// What cannot be shown is not worth a word.
void say(std::string_view text) {
  [[maybe_unused]] const ssize_t count = ::write(STDERR_FILENO, text.data(), text.size());
}

}  // namespace

ProgressLine::ProgressLine(std::string task)
    : task_(std::move(task)),
      begin_(std::chrono::steady_clock::now()),
      on_terminal_(::isatty(STDERR_FILENO) == 1) {}

ProgressLine::~ProgressLine() {
  if (width_ > 0) say("\r" + std::string(width_, ' ') + "\r");  // blanks: every terminal knows them
}

void ProgressLine::show(double share) {
  const int percent = static_cast<int>(100 * share);
  if (!on_terminal_ || percent == percent_ || std::chrono::steady_clock::now() - begin_ < kPatience) return;
  percent_ = percent;
  const std::string line = task_ + ": " + std::to_string(percent) + " %";
  width_ = line.size();  // never less than before: the share does not fall
  say("\r" + line);
}

}  // namespace linkmargin::cli
