#include "output/files_together.hpp"

#include "output/output.hpp"
#include "output/output_place.hpp"
#include "output/pending_file.hpp"

#include <algorithm>
#include <filesystem>
#include <optional>
#include <set>
#include <system_error>

namespace linkmargin::cli {
namespace {

namespace fs = std::filesystem;

std::string one_name(const std::string& file) {
  std::error_code error;
  const fs::path place = fs::weakly_canonical(written_place(file), error);
  return error ? fs::path(written_place(file)).lexically_normal().string() : place.string();
}

[[noreturn]] void refuse_twice(const FileOut& out) {
  throw Failure(kBadInput, "'" + out.file + "' would be written twice");
}

}  // namespace

void check_files_out(const std::vector<FileOut>& files, const std::vector<std::string>& inputs) {
  std::set<std::string> names;
  for (const FileOut& out : files) {
    if (out.file.empty() || out.file == kStandardOutput)
      throw Failure(kBadInput, "--" + out.option + " takes a file of its own");
    if (goes_to_stream(out.file)) continue;
    if (!names.insert(one_name(out.file)).second) refuse_twice(out);
    for (const std::string& input : inputs) {
      std::error_code ignored;
      if (fs::equivalent(input, out.file, ignored)) refuse_overwriting("--" + out.option, input);
    }
  }
}

void FilesTogether::add(const FileOut& out, std::string text) {
  if (out.file.empty()) throw Failure(kBadInput, "--" + out.option + " takes a file name");
  if (goes_to_stream(out.file)) {
    streams_.emplace_back(out, std::move(text));
    return;
  }
  refuse_read_file("--" + out.option, written_place(out.file));
  for (const auto& [before, its_text] : files_) {
    if (one_name(before.file) == one_name(out.file)) refuse_twice(out);
  }
  files_.emplace_back(out, std::move(text));
}

void FilesTogether::write() {
  std::optional<SignalsHeldBack> held_back(std::in_place);
  std::vector<PendingFile> pending;
  for (const auto& [out, text] : files_) {
    pending.emplace_back(out.file);
    pending.back().add(text);
    pending.back().end();
  }
  if (!streams_.empty()) held_back.reset();  // a pipe may wait for its reader as long as that likes
  for (const auto& [out, text] : streams_) write_straight(out.file, text);
  if (!streams_.empty()) held_back.emplace();
  take_places(pending);
}

}  // namespace linkmargin::cli
