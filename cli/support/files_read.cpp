#include "support/files_read.hpp"

#include <map>
#include <sys/stat.h>
#include <utility>

namespace linkmargin::cli {
namespace {

using FileId = std::pair<dev_t, ino_t>;

/// Of the process: whoever reads a file notes it, whoever writes one asks.
std::map<FileId, std::string>& files_read() {
  static std::map<FileId, std::string> files;
  return files;
}

std::optional<FileId> id_of(const struct stat& status) {
  if (!S_ISREG(status.st_mode)) return {};
  return FileId{status.st_dev, status.st_ino};
}

std::optional<FileId> id_of(const std::string& file) {
  struct stat status {};
  if (::stat(file.c_str(), &status) != 0) return {};
  return id_of(status);
}

std::optional<FileId> id_of(int descriptor) {
  struct stat status {};
  if (::fstat(descriptor, &status) != 0) return {};
  return id_of(status);
}

void note(const std::optional<FileId>& id, const std::string& shown) {
  if (id) files_read().try_emplace(*id, shown);
}

std::optional<std::string> name_of(const std::optional<FileId>& id) {
  if (!id) return {};
  const auto found = files_read().find(*id);
  return found == files_read().end() ? std::nullopt : std::optional(found->second);
}

}  // namespace

void note_read(const std::string& file, const std::string& shown) {
  note(id_of(file), shown);
}

void note_read(int descriptor, const std::string& shown) {
  note(id_of(descriptor), shown);
}

std::optional<std::string> name_when_read(const std::string& file) {
  return name_of(id_of(file));
}

std::optional<std::string> name_when_read(int descriptor) {
  return name_of(id_of(descriptor));
}

}  // namespace linkmargin::cli
