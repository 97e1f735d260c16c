#pragma once

#include "linkmargin/base/result.hpp"

#include <cstddef>
#include <filesystem>
#include <string>

namespace linkmargin {

/// No file that a person writes is longer.
inline constexpr std::size_t kMaxFileBytes = 8U << 20U;

/// The bytes of a file, at most kMaxFileBytes + 1 of them (so that a reader sees that there were too many).
/// The fault, one, says why the file could not be read: it does not exist, is a directory, may not be read.
Result<std::string> read_text_file(const std::filesystem::path& path);

}  // namespace linkmargin
