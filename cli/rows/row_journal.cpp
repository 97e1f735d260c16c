#include "rows/row_journal.hpp"

#include "output/output.hpp"
#include "output/output_place.hpp"
#include "output/pending_file.hpp"
#include "support/failure.hpp"

#include <boost/crc.hpp>

#include <array>
#include <cerrno>
#include <charconv>
#include <cstdio>
#include <fcntl.h>
#include <sstream>
#include <system_error>
#include <unistd.h>
#include <utility>

namespace linkmargin::cli {
namespace {

constexpr std::string_view kHead = "linkmargin rows 2";
constexpr std::string_view kRows = "rows ";
constexpr std::string_view kBytes = " bytes ";
constexpr std::string_view kChecksum = " crc32 ";

std::string hexadecimal(std::uint64_t number, int digits) {
  std::array<char, 17> text{};
  std::snprintf(text.data(), text.size(), "%0*llx", digits, static_cast<unsigned long long>(number));
  return text.data();
}

/// Takes a word and the number after it from the front of a text. @return whether they were there
template <typename Whole>
bool take(std::string_view& text, std::string_view word, Whole& number, int base = 10) {
  if (!text.starts_with(word)) return false;
  text.remove_prefix(word.size());
  const auto end = std::from_chars(text.data(), text.data() + text.size(), number, base);
  text.remove_prefix(static_cast<std::size_t>(end.ptr - text.data()));
  return end.ec == std::errc();
}

std::optional<RowBlock> parse_block(std::string_view line) {
  RowBlock block;
  const bool sound = take(line, kRows, block.rows) && take(line, kBytes, block.bytes) &&
                     take(line, kChecksum, block.checksum, 16) && line == "\n";
  return sound ? std::optional(block) : std::nullopt;
}

[[noreturn]] void fail_to_read(const std::string& file, int error) {
  throw Failure(kNoAccess, "could not read '" + file + "': " + std::generic_category().message(error));
}

}  // namespace

RowBlock row_block(std::string_view text, std::uint64_t rows) {
  boost::crc_32_type checksum;
  checksum.process_bytes(text.data(), text.size());
  return {rows, text.size(), checksum.checksum()};
}

std::string journal_of(const std::string& file) {
  return file + ".journal";
}

std::string journal_head(const RowPlan& plan) {
  return std::string(kHead) + "\nplan " + hexadecimal(plan.fingerprint, 16) + "\nruns " +
         std::to_string(plan.first_run) + " to " + std::to_string(plan.last_run) + " of " +
         std::to_string(plan.all_runs) + "\n";
}

std::string journal_line(const RowBlock& block) {
  return std::string(kRows) + std::to_string(block.rows) + std::string(kBytes) + std::to_string(block.bytes) +
         std::string(kChecksum) + hexadecimal(block.checksum, 8) + "\n";
}

std::optional<std::string_view> Lines::next() {
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
    constexpr std::size_t chunk = 1U << 16U;
    constexpr std::size_t longest = 1U << 10U;
    if (size > longest) return {};  // no line of a journal
    text_.resize(size + chunk);
    const ssize_t count = ::read(descriptor_, text_.data() + size, chunk);
    if (count < 0) fail_to_read(file_, errno);
    text_.resize(size + static_cast<std::size_t>(count));
    if (count == 0) return {};
  }
}

std::optional<JournalReader> JournalReader::open(const std::string& file) {
  const std::string name = journal_of(file);
  Descriptor descriptor(::open(written_place(name).c_str(), O_RDONLY | O_CLOEXEC));
  if (!descriptor.open() && errno == ENOENT) return {};
  if (!descriptor.open()) fail_to_read(name, errno);
  JournalReader reader(std::move(descriptor), name);
  reader.read_head();
  return reader;
}

JournalReader::JournalReader(Descriptor descriptor, std::string name)
    : descriptor_(std::move(descriptor)), name_(std::move(name)), lines_(descriptor_.number(), name_) {}

void JournalReader::read_head() {
  std::string head;
  for (int line = 0; line < 3; ++line) head += lines_.next().value_or("");
  size_ = static_cast<off_t>(head.size());
  std::string_view text = head;
  const std::string first = std::string(kHead) + "\nplan ";
  const bool sound = take(text, first, plan_.fingerprint, 16) && take(text, "\nruns ", plan_.first_run) &&
                     take(text, " to ", plan_.last_run) && take(text, " of ", plan_.all_runs) &&
                     text == "\n" && plan_.first_run >= 1 && plan_.first_run <= plan_.last_run &&
                     plan_.last_run <= plan_.all_runs;
  if (!sound) throw Failure(kBadInput, "'" + name_ + "' is not the journal of a file of rows");
}

std::optional<RowBlock> JournalReader::next() {
  const auto line = lines_.next();
  if (!line || ended_) return {};
  ended_ = *line == kJournalEnd;
  const auto block = parse_block(*line);
  if (block) size_ += static_cast<off_t>(line->size());
  return block;
}

JournalWriter::JournalWriter(const std::string& file)
    : descriptor_(::open(written_place(journal_of(file)).c_str(), O_WRONLY | O_APPEND | O_CLOEXEC)) {
  if (!descriptor_.open()) fail_to_write(journal_of(file), errno);
}

JournalWriter JournalWriter::begin(const std::string& file, const RowPlan& plan) {
  write_whole(journal_of(file), journal_head(plan));
  return JournalWriter(file);
}

JournalWriter JournalWriter::take_up(const std::string& file, off_t size) {
  JournalWriter writer(file);
  if (::ftruncate(writer.descriptor_.number(), size) != 0) fail_to_write(journal_of(file), errno);
  return writer;
}

int JournalWriter::add(std::string_view line) const {
  const off_t before = ::lseek(descriptor_.number(), 0, SEEK_END);
  const int error = write_all(descriptor_.number(), line);
  if (error != 0 && ::ftruncate(descriptor_.number(), before) != 0) return errno;
  return error;
}

int JournalWriter::sync() const {
  return ::fdatasync(descriptor_.number()) == 0 ? 0 : errno;
}

}  // namespace linkmargin::cli
