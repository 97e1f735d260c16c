#include "output/leftovers.hpp"

#include "output/descriptor.hpp"

#include <ctime>
#include <fcntl.h>
#include <filesystem>
#include <set>
#include <sys/file.h>
#include <sys/stat.h>
#include <system_error>
#include <unistd.h>

namespace linkmargin::cli {
namespace {

namespace fs = std::filesystem;

constexpr std::time_t kOldS = 5;
constexpr std::size_t kRandomCharacters = 6;

bool is_pending_name(const std::string& name) {
  const std::string begin = kPendingBegin;
  const std::string end = kPendingEnd;
  return name.size() == begin.size() + kRandomCharacters + end.size() && name.starts_with(begin) &&
         name.ends_with(end);
}

/// Of this user, and no other name of a file that is kept.
bool is_old(const struct stat& status) {
  return S_ISREG(status.st_mode) && status.st_nlink == 1 && status.st_uid == ::geteuid() &&
         std::time(nullptr) - status.st_ctime > kOldS;
}

void remove_leftover(const std::string& file) {
  struct stat status {};
  if (::lstat(file.c_str(), &status) != 0 || !is_old(status)) return;
  const Descriptor descriptor(::open(file.c_str(), O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC));
  if (!descriptor.open()) return;
  struct stat locked {};
  const bool same = ::flock(descriptor.number(), LOCK_EX | LOCK_NB) == 0 &&
                    ::fstat(descriptor.number(), &locked) == 0 && locked.st_dev == status.st_dev &&
                    locked.st_ino == status.st_ino && is_old(locked);
  if (same) ::unlink(file.c_str());
}

}  // namespace

void remove_leftovers(const std::string& folder) {
  static std::set<std::string> done;
  if (!done.insert(folder).second) return;
  std::error_code error;
  for (fs::directory_iterator entry(folder, error), end; !error && entry != end; entry.increment(error)) {
    if (is_pending_name(entry->path().filename().string())) remove_leftover(entry->path().string());
  }
}

}  // namespace linkmargin::cli
