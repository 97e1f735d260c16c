#include "row_merge.hpp"

#include "failure.hpp"
#include "output.hpp"
#include "row_journal.hpp"

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <fcntl.h>
#include <system_error>
#include <unistd.h>

namespace linkmargin::cli {
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
  write_journal(output, plan, true);
}

}  // namespace linkmargin::cli
