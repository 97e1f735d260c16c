#pragma once

#include "linkmargin/base/result.hpp"
#include "linkmargin/text/file_limits.hpp"

#include <filesystem>
#include <string>

namespace linkmargin {

/// The bytes of a file, at most most_bytes + 1 of them (so that a reader sees that there were too many).
/// The fault, one, says why the file could not be read: it does not exist, is a directory, may not be read.
Result<std::string> read_text_file(const std::filesystem::path& path, std::size_t most_bytes = kMaxFileBytes);

}  // namespace linkmargin
