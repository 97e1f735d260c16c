#include "output/output.hpp"

#include "linkmargin/text/display_text.hpp"

#include "output/output_place.hpp"
#include "support/files_read.hpp"
#include "support/input.hpp"

#include <algorithm>
#include <cctype>
#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <fcntl.h>
#include <sys/ioctl.h>
#include <system_error>
#include <unistd.h>

namespace linkmargin::cli {

int write_all(int descriptor, std::string_view text) {
  while (!text.empty()) {
    const ssize_t count = ::write(descriptor, text.data(), text.size());
    if (count < 0 && errno == EINTR) continue;
    if (count < 0) return errno;
    text.remove_prefix(static_cast<std::size_t>(count));
  }
  return 0;
}

namespace {

std::string reason(int error) {
  return std::generic_category().message(error);
}

[[noreturn]] void fail(const std::string& place, int error) {
  throw Failure(kNoAccess, "could not write " + place + ": " + reason(error));
}

}  // namespace

void write_straight(const std::string& file, std::string_view text) {
  const int descriptor = ::open(file.c_str(), O_WRONLY | O_APPEND | O_CLOEXEC);
  if (descriptor < 0) fail("'" + file + "'", errno);
  if (const auto read = name_when_read(descriptor)) {
    ::close(descriptor);
    refuse_overwriting("'" + file + "'", *read);
  }
  int error = write_all(descriptor, text);
  if (::close(descriptor) != 0 && error == 0) error = errno;
  if (error != 0) fail("'" + file + "'", error);
}

void refuse_overwriting(const std::string& what, const std::string& read) {
  const std::string named = read == shown_name("-") ? "the standard input" : "'" + read + "'";
  throw Failure(kBadInput, what + " would replace " + named + ", which is read");
}

void write_standard_output(std::string_view text) {
  if (const auto read = name_when_read(STDOUT_FILENO)) refuse_overwriting("the standard output", *read);
  const int error = write_all(STDOUT_FILENO, text);
  if (error == EPIPE) throw Failure(kNoAccess, std::vector<std::string>{});  // the reader has seen enough
  if (error != 0) fail("the standard output", error);
}

void refuse_read_file(const std::string& what, const std::string& place) {
  if (const auto read = name_when_read(place)) refuse_overwriting(what, *read);
}

void fail_to_write(const std::string& file, int error) {
  fail("'" + file + "'", error);
}

bool on_terminal(const Arguments& arguments) {
  return arguments.value("output").value_or(kStandardOutput) == kStandardOutput &&
         ::isatty(STDOUT_FILENO) == 1;
}

void prepare_output() {
  std::signal(SIGPIPE, SIG_IGN);
  std::signal(SIGXFSZ, SIG_IGN);
}

/// Whether the locale's characters are Unicode's: without one they are ASCII (POSIX).
bool shows_utf8() {
  for (const char* name : {"LC_ALL", "LC_CTYPE", "LANG"}) {
    const char* value = std::getenv(name);
    if (value == nullptr || *value == '\0') continue;
    std::string locale(value);
    std::ranges::transform(locale, locale.begin(), [](unsigned char c) { return std::tolower(c); });
    return locale.find("utf-8") != locale.npos || locale.find("utf8") != locale.npos;
  }
  return false;
}

TextStyle text_style(const Arguments& arguments) {
  TextStyle style;
  if (!on_terminal(arguments)) return style;
  winsize size{};
  if (::ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0) {
    style.width = std::min<int>(style.width, size.ws_col);
  }
  const char* no_colour = std::getenv("NO_COLOR");
  const char* terminal = std::getenv("TERM");
  const bool dumb = terminal != nullptr && std::string_view(terminal) == "dumb";
  style.ascii = dumb || !shows_utf8();
  style.colour = (no_colour == nullptr || *no_colour == '\0') && !dumb;
  return style;
}

void write_answer(const Arguments& arguments, std::string_view text) {
  write_answer(arguments, {}, text);
}

void write_answer(const Arguments& arguments, const std::vector<std::pair<FileOut, std::string>>& beside,
                  std::string_view text) {
  const std::string output = arguments.value("output").value_or(kStandardOutput);
  if (!beside.empty() || output != kStandardOutput) {
    FilesTogether files;
    for (const auto& [out, content] : beside) files.add(out, content);
    if (output != kStandardOutput) files.add({"output", output}, std::string(text));
    files.write();
  }
  if (output == kStandardOutput) write_standard_output(text);
}

FileOut file_beside(const Arguments& arguments, const std::string& option) {
  const std::string file = arguments.value(option).value_or("");
  if (file.empty() || file == kStandardOutput)
    throw Failure(kBadInput, "--" + option + " takes a file of its own");
  return {option, file};
}

void say_failure(const Failure& failure) {
  std::string text;
  for (const std::string& line : failure.lines) text += printable(line) + "\n";
  (void)write_all(STDERR_FILENO, text);  // nothing is left to say it to
}

}  // namespace linkmargin::cli
