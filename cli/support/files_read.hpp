#pragma once

#include <optional>
#include <string>

namespace linkmargin::cli {

/// Which files this command has read: by device and inode, so that another name, a link or a hard link of one
/// is known for what it is. Only regular files count; nothing can be written over another kind.

/// Notes a file. One that is not there is nothing to be noted. @param shown  as messages name it
void note_read(const std::string& file, const std::string& shown);
void note_read(int descriptor, const std::string& shown);

/// What a file was called when it was read; nothing where it was not.
std::optional<std::string> name_when_read(const std::string& file);
std::optional<std::string> name_when_read(int descriptor);

}  // namespace linkmargin::cli
