#include "output.hpp"

#include "linkmargin/report/display_text.hpp"

#include "input.hpp"

#include <algorithm>
#include <cctype>
#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <fcntl.h>
#include <filesystem>
#include <sys/ioctl.h>
#include <sys/stat.h>
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

namespace fs = std::filesystem;

constexpr const char* kStandardOutput = "-";

std::string reason(int error) {
  return std::generic_category().message(error);
}

[[noreturn]] void fail(const std::string& place, int error) {
  throw Failure(kNoAccess, "could not write " + place + ": " + reason(error));
}

/// Pipes, devices and what stands for the process's own streams: never truncated, never replaced.
void write_straight(const std::string& file, std::string_view text) {
  const int descriptor = ::open(file.c_str(), O_WRONLY | O_APPEND | O_CLOEXEC);
  if (descriptor < 0) fail("'" + file + "'", errno);
  int error = write_all(descriptor, text);
  if (::close(descriptor) != 0 && error == 0) error = errno;
  if (error != 0) fail("'" + file + "'", error);
}

mode_t wanted_mode(const std::string& place) {
  struct stat status {};
  if (::stat(place.c_str(), &status) == 0) return status.st_mode & 07777U;
  const mode_t mask = ::umask(0);
  ::umask(mask);
  return 0666U & ~mask;
}

/// Holds back the signals that would end the program between making a file and renaming it.
class SignalsHeldBack {
 public:
  SignalsHeldBack() {
    sigset_t signals;
    sigemptyset(&signals);
    for (const int signal : {SIGINT, SIGTERM, SIGHUP}) sigaddset(&signals, signal);
    sigprocmask(SIG_BLOCK, &signals, &before_);
  }
  ~SignalsHeldBack() { sigprocmask(SIG_SETMASK, &before_, nullptr); }
  SignalsHeldBack(const SignalsHeldBack&) = delete;
  SignalsHeldBack& operator=(const SignalsHeldBack&) = delete;

 private:
  sigset_t before_{};
};

void write_whole(const std::string& file, const fs::path& place, std::string_view text) {
  if (::access(place.c_str(), F_OK) == 0 && ::access(place.c_str(), W_OK) != 0) fail("'" + file + "'", errno);
  const SignalsHeldBack held_back;
  std::string beside = (place.parent_path() / ".linkmargin-XXXXXX").string();
  const int descriptor = ::mkostemp(beside.data(), O_CLOEXEC);
  if (descriptor < 0) fail("'" + file + "'", errno);
  int error = write_all(descriptor, text);
  if (error == 0 && ::fchmod(descriptor, wanted_mode(place.string())) != 0) error = errno;
  if (error == 0 && ::fsync(descriptor) != 0) error = errno;
  if (::close(descriptor) != 0 && error == 0) error = errno;
  if (error == 0 && ::rename(beside.c_str(), place.c_str()) != 0) error = errno;
  if (error == 0) return;
  ::unlink(beside.c_str());
  fail("'" + file + "'", error);
}

bool is_stream(const fs::path& place, const fs::path& typed) {
  const std::string text = typed.lexically_normal().string();
  if (text.starts_with("/dev/") || text.starts_with("/proc/")) return true;
  std::error_code ignored;
  const fs::file_status status = fs::status(place, ignored);
  return fs::exists(status) && !fs::is_regular_file(status) && !fs::is_directory(status);
}

/// Follows links, those to nothing yet too, so that a linked file is written and not the link replaced.
fs::path resolved(const std::string& file) {
  constexpr int most_links = 40;
  fs::path place = fs::absolute(file);
  std::error_code error;
  for (int i = 0; i < most_links && fs::is_symlink(place, error); ++i) {
    const fs::path target = fs::read_symlink(place, error);
    if (error) break;
    place = place.parent_path() / target;
  }
  return place;
}

bool on_terminal(const Arguments& arguments) {
  return arguments.value("output").value_or(kStandardOutput) == kStandardOutput &&
         ::isatty(STDOUT_FILENO) == 1;
}

}  // namespace

void write_standard_output(std::string_view text) {
  const int error = write_all(STDOUT_FILENO, text);
  if (error == EPIPE) throw Failure(kNoAccess, std::vector<std::string>{});  // the reader has seen enough
  if (error != 0) fail("the standard output", error);
}

void refuse_input(const Arguments& arguments, const std::string& option, const std::string& file) {
  for (const std::string& input : input_files(arguments)) {
    std::error_code ignored;
    if (fs::equivalent(input, file, ignored)) {
      throw Failure(kBadInput, "--" + option + " would replace '" + input + "', which is read");
    }
  }
}

bool goes_to_stream(const std::string& file) {
  return file == kStandardOutput || is_stream(resolved(file), file);
}

std::string written_place(const std::string& file) {
  return resolved(file).string();
}

void write_whole(const std::string& file, std::string_view text) {
  write_whole(file, resolved(file), text);
}

void fail_to_write(const std::string& file, int error) {
  fail("'" + file + "'", error);
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

namespace {

/// What a file name ends in, in small letters: ".png". Nothing where it has no ending, and where the output
/// is no file of its own.
std::string ending_of(const std::string& file) {
  if (file == kStandardOutput || is_stream(resolved(file), file)) return {};
  std::string ending = fs::path(file).extension().string();
  for (char& letter : ending) {
    if (letter >= 'A' && letter <= 'Z') letter = static_cast<char>(letter - 'A' + 'a');
  }
  return ending;
}

std::string ending_for(const std::string& word) {
  return word == "text" ? ".txt" : "." + word;
}

[[noreturn]] void refuse_ending(const std::string& option, const std::string& ending,
                                const std::vector<std::string>& words,
                                const std::optional<std::string>& format) {
  const std::string ends = "--" + option + " ends in '" + ending + "', ";
  if (format) {
    throw Failure(kBadInput, ends + "but --format says " + *format + ": let the name end in '" +
                                 ending_for(*format) + "', or leave --format out");
  }
  std::vector<std::string> endings;
  for (const std::string& word : words) endings.push_back(ending_for(word));
  throw Failure(kBadInput, ends + "which stands for no format: take " + choice(endings));
}

}  // namespace

std::string ending_format(const std::string& option, const std::string& file,
                          const std::vector<std::string>& words, const std::string& otherwise) {
  const std::string ending = ending_of(file);
  if (ending.empty()) return otherwise;
  const auto ended = std::ranges::find(words, ending, ending_for);
  if (ended == words.end()) refuse_ending(option, ending, words, {});
  return *ended;
}

std::string picture_format(const Arguments& arguments, const std::vector<std::string>& words,
                           const std::string& otherwise) {
  const std::string file = arguments.value("output").value_or(kStandardOutput);
  std::string format = otherwise;
  if (arguments.has("format")) {
    format = arguments.word("format", words);
    const std::string ending = ending_of(file);
    if (!ending.empty() && ending != ending_for(format)) refuse_ending("output", ending, words, format);
  } else {
    format = ending_format("output", file, words, otherwise);
  }
  if (format == "png" && on_terminal(arguments)) {
    throw Failure(kBadInput, "a PNG is nothing for a terminal: name a file with --output");
  }
  return format;
}

namespace {

/// @param option that names the file
void write_file(const Arguments& arguments, const std::string& option, const std::string& file,
                std::string_view text) {
  if (file.empty()) throw Failure(kBadInput, "--" + option + " takes a file name");
  const fs::path place = resolved(file);
  std::error_code ignored;
  if (fs::is_directory(place, ignored)) fail("'" + file + "'", EISDIR);
  if (is_stream(place, file)) return write_straight(file, text);
  refuse_input(arguments, option, file);
  write_whole(file, place, text);
}

}  // namespace

void write_answer(const Arguments& arguments, std::string_view text) {
  const std::string file = arguments.value("output").value_or(kStandardOutput);
  if (file == kStandardOutput) return write_standard_output(text);
  write_file(arguments, "output", file, text);
}

void write_beside(const Arguments& arguments, const std::string& option, std::string_view text) {
  const std::string file = arguments.value(option).value_or("");
  if (file == kStandardOutput || file == arguments.value("output"))
    throw Failure(kBadInput, "--" + option + " takes a file of its own");
  write_file(arguments, option, file, text);
}

void check_files_out(const Arguments& arguments, const std::vector<FileOut>& files) {
  std::vector<fs::path> places;
  for (const FileOut& out : files) {
    if (out.file.empty() || out.file == kStandardOutput)
      throw Failure(kBadInput, "--" + out.option + " takes a file of its own");
    const fs::path place = resolved(out.file).lexically_normal();
    if (is_stream(place, out.file)) continue;
    if (std::ranges::find(places, place) != places.end())
      throw Failure(kBadInput, "'" + out.file + "' would be written twice");
    places.push_back(place);
    refuse_input(arguments, out.option, out.file);
  }
}

void write_file_out(const Arguments& arguments, const FileOut& out, std::string_view text) {
  write_file(arguments, out.option, out.file, text);
}

void say_failure(const Failure& failure) {
  std::string text;
  for (const std::string& line : failure.lines) text += printable(line) + "\n";
  (void)write_all(STDERR_FILENO, text);  // nothing is left to say it to
}

}  // namespace linkmargin::cli
