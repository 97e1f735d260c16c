#include "linkmargin/yaml/tree/text_file.hpp"

#include "linkmargin/base/nearest_name.hpp"

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdio>
#include <memory>
#include <system_error>
#include <vector>

namespace linkmargin {
namespace {

namespace fs = std::filesystem;

struct Close {
  void operator()(std::FILE* file) const { std::fclose(file); }
};

Diagnostics fault(const fs::path& path, std::string message, std::string hint = {}) {
  return {{path.string(), 0, 0, "", std::move(message), std::move(hint), DiagnosticCode::unreadable_file}};
}

/// Whether one name was meant by the other: their stems are long enough to tell, and near.
bool nearly(const fs::path& written, const std::string& known) {
  constexpr std::size_t least = 3;
  const std::string stem = written.stem().string();
  const std::vector<std::string> known_stem{fs::path(known).stem().string()};
  if (stem == known_stem.front()) return true;
  return stem.size() >= least && known_stem.front().size() >= least &&
         nearest_name(stem, known_stem).has_value();
}

/// A file of nearly that name beside it.
std::string neighbour_hint(const fs::path& path) {
  constexpr std::size_t most = 1000;
  const fs::path folder = path.has_parent_path() ? path.parent_path() : fs::path(".");
  std::vector<std::string> names;
  std::error_code error;
  for (fs::directory_iterator entry(folder, error), end; !error && entry != end && names.size() < most;
       entry.increment(error)) {
    std::string name = entry->path().filename().string();
    if (std::error_code ignored; entry->is_regular_file(ignored) && nearly(path, name))
      names.push_back(std::move(name));
  }
  std::sort(names.begin(), names.end());
  const auto near = nearest_name(path.filename().string(), names);
  return near ? "did you mean '" + (path.parent_path() / *near).string() + "'?" : std::string();
}

std::string reason(int error) {
  if (error == ENOENT || error == ENOTDIR) return "no such file";
  if (error == EACCES || error == EPERM) return "the file may not be read (permission denied)";
  if (error == EISDIR) return "this is a directory, not a file";
  return "the file could not be read: " + std::generic_category().message(error);
}

}  // namespace

Result<std::string> read_text_file(const fs::path& path, std::size_t most_bytes) {
  std::error_code ignored;
  if (fs::is_directory(path, ignored)) return fault(path, reason(EISDIR));
  errno = 0;
  const std::unique_ptr<std::FILE, Close> file(std::fopen(path.c_str(), "rb"));
  if (!file) {
    const int error = errno;
    return fault(path, reason(error), error == ENOENT ? neighbour_hint(path) : std::string());
  }
  std::string text;
  std::array<char, 1U << 16U> buffer{};
  while (text.size() <= most_bytes) {
    const std::size_t wanted = std::min(buffer.size(), most_bytes + 1 - text.size());
    const std::size_t count = std::fread(buffer.data(), 1, wanted, file.get());
    text.append(buffer.data(), count);
    if (count < wanted) break;
  }
  if (std::ferror(file.get()) != 0) return fault(path, reason(errno));
  return text;
}

}  // namespace linkmargin
