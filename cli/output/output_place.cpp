#include "output/output_place.hpp"

#include "output/output.hpp"

#include <algorithm>
#include <cerrno>
#include <filesystem>
#include <string_view>
#include <system_error>

namespace linkmargin::cli {
namespace {

namespace fs = std::filesystem;

/// Names for what the process has open already, or for what processes are.
bool names_own_stream(const fs::path& typed) {
  const std::string text = typed.lexically_normal().string();
  constexpr std::string_view folders[] = {"/dev/fd/", "/proc/"};
  constexpr std::string_view names[] = {"/dev/stdin", "/dev/stdout", "/dev/stderr"};
  return std::ranges::any_of(folders, [&](std::string_view folder) { return text.starts_with(folder); }) ||
         std::ranges::find(names, text) != std::end(names);
}

}  // namespace

std::string written_place(const std::string& file) {
  constexpr int most_links = 40;  // as the system has it
  fs::path place = fs::absolute(file);
  std::error_code error;
  for (int i = 0; fs::is_symlink(place, error); ++i) {
    if (i == most_links) fail_to_write(file, ELOOP);
    const fs::path target = fs::read_symlink(place, error);
    if (error) fail_to_write(file, error.value());
    place = place.parent_path() / target;
  }
  if (error == std::errc::too_many_symbolic_link_levels)
    fail_to_write(file, ELOOP);  // of a folder on the way
  return place.string();
}

bool goes_to_stream(const std::string& file) {
  if (file == kStandardOutput || names_own_stream(file)) return true;
  std::error_code ignored;
  const fs::file_status status = fs::status(written_place(file), ignored);
  return fs::exists(status) && !fs::is_regular_file(status) && !fs::is_directory(status);
}

std::string folder_of(const std::string& place) {
  const std::string folder = fs::path(place).parent_path().string();
  return folder.empty() ? "." : folder;
}

}  // namespace linkmargin::cli
