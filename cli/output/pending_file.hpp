#pragma once

#include "output/descriptor.hpp"

#include <csignal>
#include <string>
#include <string_view>
#include <vector>

namespace linkmargin::cli {

/// A file that is being written. Until it is whole it stands beside its place, in the same folder, under a
/// name that nobody can guess and that was not there before; then it is renamed. One that does not become
/// whole is taken away. Where the program was killed meanwhile, the next one that writes into the folder
/// takes it away: a lock tells that nobody writes it, and it is some seconds old.
class PendingFile {
 public:
  /// @param file  as the person named it: links are followed
  /// @throws Failure when it cannot be written, or is one that the command reads
  explicit PendingFile(std::string file);
  ~PendingFile();
  PendingFile(PendingFile&& other) noexcept;
  PendingFile& operator=(PendingFile&&) = delete;
  PendingFile(const PendingFile&) = delete;
  PendingFile& operator=(const PendingFile&) = delete;

  /// @throws Failure when there is no room
  void add(std::string_view text);

  /// It is whole: on the disk, with the rights of what it replaces. @throws Failure
  void end();

  const std::string& file() const { return file_; }

 private:
  friend void take_places(std::vector<PendingFile>& files);
  enum class Old { none, kept, gone };

  /// @param keep_old  what stood there before, so that it can be put back
  /// @return 0 or the error of the system
  int take_place(bool keep_old);
  void put_back();

  std::string file_;
  std::string place_;
  std::string beside_;
  Descriptor descriptor_{-1};
  Old old_ = Old::none;
};

/// Renames files that are ended: all of them or none.
/// @throws Failure when one could not be; at the places of the others is then what was there before
void take_places(std::vector<PendingFile>& files);

/// Ends one and renames it.
void take_place(PendingFile file);

/// A text as a file, whole or not there. @throws Failure as PendingFile does
void write_whole(const std::string& file, std::string_view text);

/// Holds back the signals that would end the program between making a file and renaming it.
class SignalsHeldBack {
 public:
  SignalsHeldBack();
  ~SignalsHeldBack();
  SignalsHeldBack(const SignalsHeldBack&) = delete;
  SignalsHeldBack& operator=(const SignalsHeldBack&) = delete;

 private:
  sigset_t before_{};
};

}  // namespace linkmargin::cli
