#include "rows/row_merge.hpp"

#include "output/descriptor.hpp"
#include "output/output.hpp"
#include "output/output_place.hpp"
#include "output/pending_file.hpp"
#include "rows/row_file.hpp"
#include "rows/row_journal.hpp"
#include "support/failure.hpp"
#include "support/files_read.hpp"
#include "support/interruption.hpp"

#include <algorithm>
#include <cerrno>
#include <fcntl.h>
#include <system_error>
#include <utility>

namespace linkmargin::cli {
namespace {

struct Part {
  std::string file;
  RowPlan plan;
};

std::string runs_text(std::uint64_t first, std::uint64_t last) {
  if (first == last) return "run " + std::to_string(first);
  return "runs " + std::to_string(first) + " to " + std::to_string(last);
}

/// What a block holds, with its verb: "runs 17 to 32 are".
std::string block_text(const RowBlock& block, std::uint64_t first_run) {
  if (block.rows == 0) return "the first line is";
  return runs_text(first_run, first_run + block.rows - 1) + (block.rows == 1 ? " is" : " are");
}

/// What the journal of a file says of it: all rows are there.
Part ended_part(const std::string& file) {
  auto journal = JournalReader::open(file);
  if (!journal)
    throw Failure(kBadInput, "'" + file + "' has no journal beside it: it is no shard's file of rows");
  note_read(written_place(journal_of(file)), journal_of(file));
  std::uint64_t rows = 0;
  while (const auto block = journal->next()) rows += block->rows;
  if (!journal->ended())
    throw Failure(kBadInput, "'" + file + "' is not ended: give its command once more, with --resume");
  if (rows != journal->plan().rows())
    throw Failure(kBadInput, "'" + journal_of(file) + "' is damaged: it knows of " + std::to_string(rows) +
                                 " of " + std::to_string(journal->plan().rows()) +
                                 " rows. Give the command of '" + file + "' once more, with --resume");
  return {file, journal->plan()};
}

std::vector<Part> ordered_parts(const std::vector<std::string>& files) {
  std::vector<Part> parts;
  for (const std::string& file : files) parts.push_back(ended_part(file));
  std::ranges::stable_sort(parts, {}, [](const Part& part) { return part.plan.first_run; });
  std::uint64_t next = 1;
  for (const Part& part : parts) {
    if (part.plan.fingerprint != parts.front().plan.fingerprint ||
        part.plan.all_runs != parts.front().plan.all_runs)
      throw Failure(kBadInput, "'" + part.file + "' is of other runs than '" + parts.front().file + "'");
    if (part.plan.first_run < next)
      throw Failure(kBadInput, "'" + part.file + "' holds " +
                                   runs_text(part.plan.first_run, part.plan.last_run) +
                                   ", which are there already");
    if (part.plan.first_run > next) break;
    next = part.plan.last_run + 1;
  }
  if (next <= parts.front().plan.all_runs)
    throw Failure(kBadInput, "run " + std::to_string(next) + " of " +
                                 std::to_string(parts.front().plan.all_runs) +
                                 " and those after it are in none of the files");
  return parts;
}

/// The file of all rows and its journal, while they come to be.
class Merged {
 public:
  explicit Merged(const std::string& output, const RowPlan& plan)
      : rows_(output), journal_(journal_of(output)) {
    journal_.add(journal_head(plan));
  }

  /// Adds the rows of a part. @throws Failure when they are not those that were written
  void add(const Part& part) {
    const Descriptor descriptor(::open(written_place(part.file).c_str(), O_RDONLY | O_CLOEXEC));
    if (!descriptor.open())
      throw Failure(kNoAccess,
                    "could not read '" + part.file + "': " + std::generic_category().message(errno));
    note_read(descriptor.number(), part.file);
    auto journal = JournalReader::open(part.file);
    std::uint64_t run = part.plan.first_run;
    std::string header;
    while (const auto block = journal->next()) {
      const std::string text = read_bytes(descriptor.number(), block->bytes, part.file);
      check(part, *block, text, run);
      run += block->rows;
      if (block->rows == 0) {
        header = text;
      } else {
        take(*block, text);
      }
      if (block->rows == 0 && first_.empty()) take(*block, text);
    }
    if (!read_bytes(descriptor.number(), 1, part.file).empty())
      throw Failure(kBadInput,
                    "'" + part.file + "' holds more than the rows that its journal knows of" + again(part));
    if (first_.empty()) {
      first_ = part.file;
      header_ = header;
    }
    if (header != header_)
      throw Failure(kBadInput,
                    "the first line of '" + part.file + "' is another than that of '" + first_ + "'");
  }

  /// Both appear, or none.
  void take_place() {
    std::vector<PendingFile> files;
    journal_.add(kJournalEnd);
    rows_.end();
    journal_.end();
    files.push_back(std::move(rows_));
    files.push_back(std::move(journal_));
    take_places(files);
  }

 private:
  static std::string again(const Part& part) {
    return ". Give the command of '" + part.file +
           "' once more, with --resume: it makes again what is missing";
  }

  static void check(const Part& part, const RowBlock& block, std::string_view text, std::uint64_t run) {
    if (text.size() < block.bytes)
      throw Failure(kBadInput, "'" + part.file + "' ends too early: of its " +
                                   std::to_string(part.plan.rows()) + " rows " +
                                   std::to_string(run - part.plan.first_run) + " are whole" + again(part));
    const auto lines = static_cast<std::uint64_t>(std::ranges::count(text, '\n'));
    const bool whole = block.rows == 0 ? lines == 1 : lines > 0 && lines % block.rows == 0;
    if (row_block(text, block.rows) == block && whole) return;
    throw Failure(kBadInput, "'" + part.file + "' was changed: " + block_text(block, run) +
                                 " not what was written" + again(part));
  }

  void take(const RowBlock& block, std::string_view text) {
    rows_.add(text);
    journal_.add(journal_line(block));
    if (interruption_.came()) throw Failure(kInterrupted, "interrupted: nothing was written");
  }

  Interruption interruption_;
  PendingFile rows_;
  PendingFile journal_;
  std::string first_;   // of the parts
  std::string header_;  // that it has
};

}  // namespace

void merge_rows(const std::vector<std::string>& files, const std::string& output) {
  const std::vector<Part> parts = ordered_parts(files);
  for (const Part& part : parts) note_read(written_place(part.file), part.file);
  RowPlan plan = parts.front().plan;
  plan.first_run = 1;
  plan.last_run = plan.all_runs;
  refuse_read_file("--output", written_place(output));
  Merged merged(output, plan);
  for (const Part& part : parts) merged.add(part);
  merged.take_place();
}

}  // namespace linkmargin::cli
