#include "row_file.hpp"

#include "failure.hpp"
#include "output.hpp"

#include <cerrno>
#include <chrono>
#include <fcntl.h>
#include <filesystem>
#include <optional>
#include <sys/file.h>
#include <system_error>
#include <unistd.h>

namespace linkmargin::cli {
namespace {

namespace fs = std::filesystem;

std::int64_t now_s() {
  return std::chrono::duration_cast<std::chrono::seconds>(std::chrono::steady_clock::now().time_since_epoch())
      .count();
}

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
      write_journal(file_, plan_, false);
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
  if (resume && journal->plan != plan_) {
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
  write_journal(file_, plan_, true);
}

}  // namespace linkmargin::cli
