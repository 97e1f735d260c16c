#pragma once

#include "support/arguments.hpp"
#include "support/failure.hpp"

#include <functional>
#include <string>

namespace linkmargin::cli {

/// Calls `draw` with the text of a file now, and again whenever the file changes, until the program is ended.
/// What fails later is said on the error stream, and the next change waited for. A file that is away for a
/// moment, as editors replace it, is waited for.
/// @throws Failure when the file is not there at first, and what the first call throws
[[noreturn]] void watch(const std::string& file, const std::function<void(const std::string& text)>& draw);

}  // namespace linkmargin::cli
