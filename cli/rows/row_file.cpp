#include "rows/row_file.hpp"

#include "output/output.hpp"
#include "output/output_place.hpp"
#include "support/failure.hpp"

#include <algorithm>
#include <cerrno>
#include <chrono>
#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <system_error>
#include <unistd.h>
#include <vector>

namespace linkmargin::cli {
namespace {

std::int64_t now_s() {
  return std::chrono::duration_cast<std::chrono::seconds>(std::chrono::steady_clock::now().time_since_epoch())
      .count();
}

}  // namespace

std::string read_bytes(int descriptor, std::uint64_t bytes, const std::string& file) {
  constexpr std::uint64_t chunk = 1U << 20U;  // a damaged journal may ask for any number
  std::string text;
  std::size_t size = 0;
  while (size < bytes) {
    text.resize(size + static_cast<std::size_t>(std::min(chunk, bytes - size)));
    const ssize_t count = ::read(descriptor, text.data() + size, text.size() - size);
    if (count < 0 && errno != EINTR)
      throw Failure(kNoAccess, "could not read '" + file + "': " + std::generic_category().message(errno));
    if (count == 0) break;
    if (count > 0) size += static_cast<std::size_t>(count);
  }
  text.resize(size);
  return text;
}

RowFile::RowFile(std::string file, const RowPlan& plan, const RowLayout& layout, bool resume)
    : file_(std::move(file)), plan_(plan), next_run_(plan.first_run) {
  refuse_read_file("--output", written_place(file_));
  refuse_read_file("'" + journal_of(file_) + "', the journal of --output,", written_place(journal_of(file_)));
  open();
  struct stat status {};
  if (::fstat(descriptor_.number(), &status) != 0) fail(errno);
  const bool there = status.st_size > 0;
  if (there) refuse_other_plan(resume);
  if (there && resume) {
    take_up(layout);
  } else {
    begin(layout);
  }
}

void RowFile::refuse_other_plan(bool resume) const {
  auto journal = JournalReader::open(file_);
  if (resume && !journal)
    throw Failure(kBadInput, "'" + file_ + "' has no journal beside it: it cannot be resumed");
  if (resume && journal->plan() != plan_) {
    throw Failure(kBadInput,
                  "'" + file_ +
                      "' holds rows of other runs: the what-if file, a site, a table, an option or "
                      "the program is not what it was");
  }
  if (resume || !journal) return;
  while (journal->next()) continue;
  if (!journal->ended()) {
    throw Failure(kBadInput, "'" + file_ +
                                 "' holds the rows of runs that were not ended: go on with --resume, or "
                                 "delete it and its journal");
  }
}

void RowFile::fail(int error) const {
  const std::uint64_t rows = next_run_ - plan_.first_run;
  throw Failure(kNoAccess, "could not write '" + file_ + "': " + std::generic_category().message(error) +
                               "; " + std::to_string(rows) + " of " + std::to_string(plan_.rows()) +
                               " rows are in it: make room, then give the same command with --resume");
}

void RowFile::open() {
  descriptor_ = Descriptor(::open(written_place(file_).c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0666));
  if (!descriptor_.open()) fail_to_write(file_, errno);
  if (::flock(descriptor_.number(), LOCK_EX | LOCK_NB) != 0)
    throw Failure(kNoAccess, "another process writes '" + file_ + "'");
}

/// Emptied first: no journal stands beside rows that are not its own.
void RowFile::begin(const RowLayout& layout) {
  if (::ftruncate(descriptor_.number(), 0) != 0) fail(errno);
  journal_ = JournalWriter::begin(file_, plan_);
  if (!layout.header.empty()) add(layout.header, 0);
}

/// Whether a block holds what it should: then its rows are taken.
bool RowFile::take_block(const RowBlock& block, std::string_view text, const RowLayout& layout) {
  if (row_block(text, block.rows) != block) return false;
  if (block.rows == 0) return next_run_ == plan_.first_run && text == layout.header;
  std::uint64_t run = next_run_;
  std::vector<std::string_view> lines;
  for (std::size_t end = 0; !text.empty(); text.remove_prefix(end + layout.line_end.size())) {
    end = text.find(layout.line_end);
    if (end == text.npos || run > plan_.last_run) return false;
    lines.push_back(text.substr(0, end));
    if (lines.size() < layout.lines_per_run) continue;
    if (!layout.take_run(run, lines)) return false;
    lines.clear();
    ++run;
  }
  if (!lines.empty() || run != next_run_ + block.rows) return false;
  next_run_ = run;
  return true;
}

void RowFile::take_up(const RowLayout& layout) {
  auto journal = JournalReader::open(file_);
  off_t rows_size = 0;
  off_t journal_size = journal->size();
  while (const auto block = journal->next()) {
    const bool stays =
        rows_lost_ == 0 && take_block(*block, read_bytes(descriptor_.number(), block->bytes, file_), layout);
    if (stays) {
      rows_size += static_cast<off_t>(block->bytes);
      journal_size = journal->size();
    } else {
      rows_lost_ += std::max<std::uint64_t>(block->rows, 1);
    }
  }
  if (::ftruncate(descriptor_.number(), rows_size) != 0 ||
      ::lseek(descriptor_.number(), rows_size, SEEK_SET) != rows_size)
    fail(errno);
  journal_ = JournalWriter::take_up(file_, journal_size);
  if (rows_size == 0 && !layout.header.empty()) add(layout.header, 0);
}

void RowFile::add(std::string_view rows, std::uint64_t count) {
  const off_t before = ::lseek(descriptor_.number(), 0, SEEK_CUR);
  int error = write_all(descriptor_.number(), rows);
  if (error == 0) error = journal_->add(journal_line(row_block(rows, count)));
  if (error != 0) {
    if (::ftruncate(descriptor_.number(), before) != 0) fail(errno);
    fail(error);
  }
  next_run_ += count;
  constexpr std::int64_t every_s = 2;
  if (now_s() - synced_at_s_ >= every_s) sync();
}

void RowFile::sync() {
  if (::fdatasync(descriptor_.number()) != 0) fail(errno);
  if (const int error = journal_->sync(); error != 0) fail(error);
  synced_at_s_ = now_s();
}

void RowFile::finish() {
  sync();
  if (const int error = journal_->add(kJournalEnd); error != 0) fail(error);
  if (const int error = journal_->sync(); error != 0) fail(error);
}

}  // namespace linkmargin::cli
