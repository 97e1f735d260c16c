#include "row_file.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/yaml/text_file.hpp"

#include "failure.hpp"
#include "output.hpp"

#include <algorithm>
#include <array>
#include <cerrno>
#include <charconv>
#include <chrono>
#include <cstdio>
#include <fcntl.h>
#include <filesystem>
#include <optional>
#include <sstream>
#include <sys/file.h>
#include <system_error>
#include <unistd.h>
#include <vector>

namespace linkmargin::cli {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view kJournalHead = "linkmargin rows 1";
constexpr std::string_view kJournalEnd = "all rows are there";

std::string journal_of(const std::string& file) {
  return file + ".journal";
}

std::string hexadecimal(std::uint64_t number) {
  std::array<char, 17> text{};
  std::snprintf(text.data(), text.size(), "%016llx", static_cast<unsigned long long>(number));
  return text.data();
}

std::string journal_text(const RowPlan& plan) {
  return std::string(kJournalHead) + "\nplan " + hexadecimal(plan.fingerprint) + "\nruns " +
         std::to_string(plan.first_run) + " to " + std::to_string(plan.last_run) + " of " +
         std::to_string(plan.all_runs) + "\n";
}

struct Journal {
  RowPlan plan;
  bool ended = false;
};

/// Nothing when there is no such file.
std::optional<Journal> read_journal(const std::string& file) {
  const std::string name = journal_of(file);
  std::error_code ignored;
  if (!fs::exists(written_place(name), ignored)) return {};
  const auto text = read_text_file(written_place(name));
  if (!text) throw Failure(kNoAccess, "could not read '" + name + "'");
  std::istringstream lines(*text);
  std::string head, plan_word, plan, runs_word, to, of, rest;
  Journal journal;
  std::getline(lines, head);
  lines >> plan_word >> plan >> runs_word >> journal.plan.first_run >> to >> journal.plan.last_run >> of >>
      journal.plan.all_runs;
  const auto end = std::from_chars(plan.data(), plan.data() + plan.size(), journal.plan.fingerprint, 16);
  const bool sound =
      lines && head == kJournalHead && end.ptr == plan.data() + plan.size() && plan.size() == 16;
  if (!sound) throw Failure(kBadInput, "'" + name + "' is not the journal of a file of rows");
  std::getline(lines, rest);
  std::getline(lines, rest);
  journal.ended = rest == kJournalEnd;
  return journal;
}

bool same(const RowPlan& a, const RowPlan& b) {
  return a.fingerprint == b.fingerprint && a.first_run == b.first_run && a.last_run == b.last_run &&
         a.all_runs == b.all_runs;
}

std::int64_t now_s() {
  return std::chrono::duration_cast<std::chrono::seconds>(std::chrono::steady_clock::now().time_since_epoch())
      .count();
}

/// The lines of a file from its start, each with where it ends; the last may lack its end.
class Lines {
 public:
  Lines(int descriptor, std::string file) : descriptor_(descriptor), file_(std::move(file)) {}

  /// A line with its '\n'; nothing at the end of the file and of what has no '\n'.
  /// @throws Failure when the file cannot be read
  std::optional<std::string_view> next() {
    while (true) {
      const std::size_t end = text_.find('\n', begin_);
      if (end != std::string::npos) {
        const std::string_view line(text_.data() + begin_, end + 1 - begin_);
        begin_ = end + 1;
        return line;
      }
      text_.erase(0, begin_);
      begin_ = 0;
      const std::size_t size = text_.size();
      constexpr std::size_t chunk = 1U << 20U;
      text_.resize(size + chunk);
      const ssize_t count = ::read(descriptor_, text_.data() + size, chunk);
      if (count < 0)
        throw Failure(kNoAccess, "could not read '" + file_ + "': " + std::generic_category().message(errno));
      text_.resize(size + static_cast<std::size_t>(count));
      if (count == 0) return {};
    }
  }

 private:
  int descriptor_;
  std::string file_;
  std::string text_;
  std::size_t begin_ = 0;
};

}  // namespace

RowFile::RowFile(std::string file, const RowPlan& plan, const RowLayout& layout, bool resume)
    : file_(std::move(file)), plan_(plan), next_run_(plan.first_run) {
  std::error_code ignored;
  const auto size = fs::file_size(written_place(file_), ignored);
  const bool there = !ignored && size > 0;
  if (there) refuse_other_plan(resume);
  open();
  try {
    if (!resume || !there) {  // emptied first: no journal stands beside rows that are not its own
      if (::ftruncate(descriptor_, 0) != 0) fail(errno);
      write_whole(journal_of(file_), journal_text(plan_));
    }
    take_up(layout);
  } catch (...) {
    ::close(descriptor_);
    throw;
  }
}

void RowFile::refuse_other_plan(bool resume) const {
  const auto journal = read_journal(file_);
  if (resume && !journal)
    throw Failure(kBadInput, "'" + file_ + "' has no journal beside it: it cannot be resumed");
  if (resume && !same(journal->plan, plan_)) {
    throw Failure(kBadInput,
                  "'" + file_ +
                      "' holds rows of other runs: the what-if file, a site, a table, an option or "
                      "the program is not what it was");
  }
  if (!resume && journal && !journal->ended) {
    throw Failure(kBadInput, "'" + file_ +
                                 "' holds the rows of runs that were not ended: go on with --resume, or "
                                 "delete it and its journal");
  }
}

RowFile::~RowFile() {
  ::close(descriptor_);
}

void RowFile::fail(int error) const {
  const std::uint64_t rows = next_run_ - plan_.first_run;
  throw Failure(kNoAccess, "could not write '" + file_ + "': " + std::generic_category().message(error) +
                               "; " + std::to_string(rows) + " of " +
                               std::to_string(plan_.last_run + 1 - plan_.first_run) +
                               " rows are in it: make room, then give the same command with --resume");
}

void RowFile::open() {
  descriptor_ = ::open(written_place(file_).c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0666);
  if (descriptor_ < 0) fail_to_write(file_, errno);
  if (::flock(descriptor_, LOCK_EX | LOCK_NB) != 0) {
    ::close(descriptor_);
    throw Failure(kNoAccess, "another process writes '" + file_ + "'");
  }
}

void RowFile::take_up(const RowLayout& layout) {
  off_t whole = 0;
  Lines lines(descriptor_, file_);
  auto line = layout.header.empty() ? std::optional<std::string_view>("") : lines.next();
  if (line && *line == layout.header) {
    whole = static_cast<off_t>(line->size());
    while (next_run_ <= plan_.last_run && (line = lines.next())) {
      if (!line->ends_with(layout.line_end)) break;
      if (layout.run_of(line->substr(0, line->size() - layout.line_end.size())) != next_run_) break;
      whole += static_cast<off_t>(line->size());
      ++next_run_;
    }
  }
  if (::ftruncate(descriptor_, whole) != 0 || ::lseek(descriptor_, whole, SEEK_SET) != whole) fail(errno);
  if (whole == 0) add(layout.header, 0);
}

void RowFile::add(std::string_view rows, std::uint64_t count) {
  const off_t before = ::lseek(descriptor_, 0, SEEK_CUR);
  if (const int error = write_all(descriptor_, rows); error != 0) {
    if (::ftruncate(descriptor_, before) != 0) fail(errno);
    fail(error);
  }
  next_run_ += count;
  constexpr std::int64_t every_s = 2;
  if (now_s() - synced_at_s_ < every_s) return;
  if (::fdatasync(descriptor_) != 0) fail(errno);
  synced_at_s_ = now_s();
}

void RowFile::finish() {
  if (::fsync(descriptor_) != 0) fail(errno);
  write_whole(journal_of(file_), journal_text(plan_) + std::string(kJournalEnd) + "\n");
}

namespace {

struct Part {
  std::string file;
  RowPlan plan;
};

std::string runs_text(const RowPlan& plan) {
  return std::to_string(plan.first_run) + " to " + std::to_string(plan.last_run);
}

std::vector<Part> ordered_parts(const std::vector<std::string>& files) {
  std::vector<Part> parts;
  for (const std::string& file : files) {
    const auto journal = read_journal(file);
    if (!journal)
      throw Failure(kBadInput, "'" + file + "' has no journal beside it: it is no shard's file of rows");
    if (!journal->ended)
      throw Failure(kBadInput, "'" + file + "' is not ended: give its command once more, with --resume");
    parts.push_back({file, journal->plan});
  }
  std::ranges::stable_sort(parts, {}, [](const Part& part) { return part.plan.first_run; });
  std::uint64_t next = 1;
  for (const Part& part : parts) {
    if (part.plan.fingerprint != parts.front().plan.fingerprint ||
        part.plan.all_runs != parts.front().plan.all_runs)
      throw Failure(kBadInput, "'" + part.file + "' is of other runs than '" + parts.front().file + "'");
    if (part.plan.first_run < next)
      throw Failure(kBadInput,
                    "'" + part.file + "' holds runs " + runs_text(part.plan) + ", which are there already");
    if (part.plan.first_run > next) break;
    next = part.plan.last_run + 1;
  }
  if (next <= parts.front().plan.all_runs)
    throw Failure(kBadInput, "run " + std::to_string(next) + " of " +
                                 std::to_string(parts.front().plan.all_runs) +
                                 " and those after it are in none of the files");
  return parts;
}

/// Closes a descriptor at the end.
class Closing {
 public:
  explicit Closing(int descriptor) : descriptor_(descriptor) {}
  ~Closing() { ::close(descriptor_); }
  Closing(const Closing&) = delete;
  Closing& operator=(const Closing&) = delete;

 private:
  int descriptor_;
};

/// Closes a descriptor, and takes a file away that did not become whole.
class Beside {
 public:
  explicit Beside(const std::string& place) : place_(place + ".part") {
    descriptor_ = ::open(place_.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0666);
    if (descriptor_ < 0) fail_to_write(place_, errno);
  }
  ~Beside() {
    ::close(descriptor_);
    ::unlink(place_.c_str());
  }
  Beside(const Beside&) = delete;
  Beside& operator=(const Beside&) = delete;

  void add(std::string_view text) const {
    if (const int error = write_all(descriptor_, text); error != 0) fail_to_write(place_, error);
  }
  void become(const std::string& place) const {
    if (::fsync(descriptor_) != 0 || ::rename(place_.c_str(), place.c_str()) != 0)
      fail_to_write(place, errno);
  }

 private:
  std::string place_;
  int descriptor_;
};

/// Copies a file's lines, less the first where it is a header that is there already.
void copy_lines(const std::string& file, bool without_header, const Beside& to) {
  const int descriptor = ::open(written_place(file).c_str(), O_RDONLY | O_CLOEXEC);
  if (descriptor < 0)
    throw Failure(kNoAccess, "could not read '" + file + "': " + std::generic_category().message(errno));
  const Closing closing(descriptor);
  constexpr std::size_t much = 1U << 20U;
  Lines lines(descriptor, file);
  std::string gathered;
  for (bool first = true; const auto line = lines.next(); first = false) {
    const bool is_header = first && !line->starts_with('{');
    if (is_header && without_header) continue;
    gathered += *line;
    if (gathered.size() < much) continue;
    to.add(gathered);
    gathered.clear();
  }
  to.add(gathered);
}

}  // namespace

void merge_rows(const std::vector<std::string>& files, const std::string& output) {
  const std::vector<Part> parts = ordered_parts(files);
  const std::string place = written_place(output);
  const Beside merged(place);
  for (std::size_t i = 0; i < parts.size(); ++i) copy_lines(parts[i].file, i > 0, merged);
  RowPlan plan = parts.front().plan;
  plan.first_run = 1;
  plan.last_run = plan.all_runs;
  merged.become(place);
  write_whole(journal_of(output), journal_text(plan) + std::string(kJournalEnd) + "\n");
}

}  // namespace linkmargin::cli
