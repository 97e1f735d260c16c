#include "row_journal.hpp"

#include "linkmargin/yaml/text_file.hpp"

#include "failure.hpp"
#include "output.hpp"

#include <array>
#include <cerrno>
#include <charconv>
#include <cstdio>
#include <filesystem>
#include <sstream>
#include <system_error>
#include <unistd.h>

namespace linkmargin::cli {
namespace {

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

}  // namespace

void write_journal(const std::string& file, const RowPlan& plan, bool ended) {
  write_whole(journal_of(file), journal_text(plan) + (ended ? std::string(kJournalEnd) + "\n" : ""));
}

std::optional<Journal> read_journal(const std::string& file) {
  const std::string name = journal_of(file);
  std::error_code ignored;
  if (!std::filesystem::exists(written_place(name), ignored)) return {};
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
    constexpr std::size_t chunk = 1U << 20U;
    text_.resize(size + chunk);
    const ssize_t count = ::read(descriptor_, text_.data() + size, chunk);
    if (count < 0)
      throw Failure(kNoAccess, "could not read '" + file_ + "': " + std::generic_category().message(errno));
    text_.resize(size + static_cast<std::size_t>(count));
    if (count == 0) return {};
  }
}

}  // namespace linkmargin::cli
