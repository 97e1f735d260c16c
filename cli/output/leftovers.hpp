#pragma once

#include <string>

namespace linkmargin::cli {

/// What the name of a file that is being written begins and ends with; between them are six random
/// characters.
inline constexpr const char* kPendingBegin = ".linkmargin-";
inline constexpr const char* kPendingEnd = ".part";

/// Takes away what programs that were killed left of files they were writing in a folder, once for each
/// folder: files of such a name and of this user that nobody has locked and nobody has touched for some
/// seconds.
void remove_leftovers(const std::string& folder);

}  // namespace linkmargin::cli
