#include "support/progress_line.hpp"

#include "linkmargin/base/number_text.hpp"

#include <algorithm>
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
  if (percent == percent_) return;
  show(share, "");
}

void ProgressLine::show_rate(std::uint64_t done, std::uint64_t all) {
  const auto now = std::chrono::steady_clock::now();
  if (!on_terminal_ || now - shown_ < kPatience) return;
  const double seconds = std::chrono::duration<double>(now - begin_).count();
  const double rate = static_cast<double>(done) / std::max(seconds, 1e-9);
  const double left_s = static_cast<double>(all - done) / std::max(rate, 1e-9);
  const std::string left = left_s < 100 ? fixed_text(left_s, 0) + " s" : fixed_text(left_s / 60, 0) + " min";
  show(static_cast<double>(done) / static_cast<double>(all),
       ", " + fixed_text(rate, 0) + " a second, " + left + " left");
}

void ProgressLine::show(double share, const std::string& rest) {
  const auto now = std::chrono::steady_clock::now();
  if (!on_terminal_ || now - begin_ < kPatience) return;
  percent_ = static_cast<int>(100 * share);
  shown_ = now;
  const std::string line = task_ + ": " + std::to_string(percent_) + " %" + rest;
  const std::size_t blanks = line.size() < width_ ? width_ - line.size() : 0;
  width_ = std::max(width_, line.size());
  say("\r" + line + std::string(blanks, ' '));
}

}  // namespace linkmargin::cli
