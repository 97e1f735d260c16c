#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace linkmargin::cli {

/// A file that is to be written, and the option that asks for it.
struct FileOut {
  std::string option;
  std::string file;
};

/// Before any work.
/// @throws Failure when a name is none for a file of its own, when two are the same, and when one is among
/// the inputs
void check_files_out(const std::vector<FileOut>& files, const std::vector<std::string>& inputs);

/// Files of one answer: all of them are written, or none where one cannot be. A pipe or a device is written
/// straight, before the files appear.
class FilesTogether {
 public:
  /// @throws Failure when it is one that the command reads, or is among them already
  void add(const FileOut& out, std::string text);

  /// @throws Failure when one of them could not be written
  void write();

 private:
  std::vector<std::pair<FileOut, std::string>> files_;  // with their texts
  std::vector<std::pair<FileOut, std::string>> streams_;
};

}  // namespace linkmargin::cli
