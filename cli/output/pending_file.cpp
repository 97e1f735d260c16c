#include "output/pending_file.hpp"

#include "output/leftovers.hpp"
#include "output/output.hpp"
#include "output/output_place.hpp"
#include "support/failure.hpp"
#include "support/files_read.hpp"

#include <cerrno>
#include <cstdio>
#include <fcntl.h>
#include <filesystem>
#include <span>
#include <sys/file.h>
#include <sys/stat.h>
#include <system_error>
#include <unistd.h>
#include <utility>

namespace linkmargin::cli {
namespace {

mode_t wanted_mode(const std::string& place) {
  struct stat status {};
  if (::stat(place.c_str(), &status) == 0) return status.st_mode & 07777U;
  const mode_t mask = ::umask(0);
  ::umask(mask);
  return 0666U & ~mask;
}

/// Lets two files change places. @return 0 or the error of the system; EINVAL where that is not to be had
int swap_files(const std::string& one, const std::string& other) {
#ifdef RENAME_EXCHANGE
  return ::renameat2(AT_FDCWD, one.c_str(), AT_FDCWD, other.c_str(), RENAME_EXCHANGE) == 0 ? 0 : errno;
#else
  (void)one, (void)other;
  return EINVAL;
#endif
}

/// So that a power cut leaves the new name too; where that cannot be asked for it is not.
void sync_folder(const std::string& place) {
  const Descriptor folder(::open(folder_of(place).c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
  if (folder.open()) (void)::fsync(folder.number());
}

}  // namespace

PendingFile::PendingFile(std::string file) : file_(std::move(file)), place_(written_place(file_)) {
  std::error_code ignored;
  if (std::filesystem::is_directory(place_, ignored)) fail_to_write(file_, EISDIR);
  refuse_read_file(file_, place_);
  if (::access(place_.c_str(), F_OK) == 0 && ::access(place_.c_str(), W_OK) != 0) fail_to_write(file_, errno);
  const std::string folder = folder_of(place_);
  remove_leftovers(folder);
  const std::string end = kPendingEnd;
  beside_ = (std::filesystem::path(folder) / (std::string(kPendingBegin) + "XXXXXX" + end)).string();
  descriptor_ = Descriptor(::mkostemps(beside_.data(), static_cast<int>(end.size()), O_CLOEXEC));
  if (!descriptor_.open()) {
    beside_.clear();
    fail_to_write(file_, errno);
  }
  // Where there are no locks nothing is taken away by others either.
  (void)::flock(descriptor_.number(), LOCK_EX | LOCK_NB);
}

PendingFile::PendingFile(PendingFile&& other) noexcept
    : file_(std::move(other.file_)),
      place_(std::move(other.place_)),
      beside_(std::exchange(other.beside_, {})),
      descriptor_(std::move(other.descriptor_)),
      old_(other.old_) {}

PendingFile::~PendingFile() {
  if (!beside_.empty()) ::unlink(beside_.c_str());
}

void PendingFile::add(std::string_view text) {
  if (const int error = write_all(descriptor_.number(), text); error != 0) fail_to_write(file_, error);
}

void PendingFile::end() {
  if (::fchmod(descriptor_.number(), wanted_mode(place_)) != 0 || ::fsync(descriptor_.number()) != 0)
    fail_to_write(file_, errno);
}

int PendingFile::take_place(bool keep_old) {
  const bool there = ::access(place_.c_str(), F_OK) == 0;
  if (there && keep_old) {
    const int error = swap_files(beside_, place_);
    if (error == 0) old_ = Old::kept;
    if (error != EINVAL && error != ENOSYS) return error;
  }
  if (::rename(beside_.c_str(), place_.c_str()) != 0) return errno;
  old_ = there ? Old::gone : Old::none;
  beside_.clear();
  return 0;
}

void PendingFile::put_back() {
  if (old_ == Old::kept) (void)swap_files(beside_, place_);
  if (old_ == Old::none) (void)::unlink(place_.c_str());
}

void take_places(std::vector<PendingFile>& files) {
  for (std::size_t i = 0; i < files.size(); ++i) {
    const int error = files[i].take_place(files.size() > 1);
    if (error == 0) continue;
    for (PendingFile& before : std::span(files).first(i)) before.put_back();
    fail_to_write(files[i].file(), error);
  }
  for (const PendingFile& file : files) sync_folder(file.place_);
}

void take_place(PendingFile file) {
  file.end();
  std::vector<PendingFile> files;
  files.push_back(std::move(file));
  take_places(files);
}

void write_whole(const std::string& file, std::string_view text) {
  const SignalsHeldBack held_back;
  PendingFile pending(file);
  pending.add(text);
  take_place(std::move(pending));
}

SignalsHeldBack::SignalsHeldBack() {
  sigset_t signals;
  sigemptyset(&signals);
  for (const int signal : {SIGINT, SIGTERM, SIGHUP}) sigaddset(&signals, signal);
  sigprocmask(SIG_BLOCK, &signals, &before_);
}

SignalsHeldBack::~SignalsHeldBack() {
  sigprocmask(SIG_SETMASK, &before_, nullptr);
}

}  // namespace linkmargin::cli
