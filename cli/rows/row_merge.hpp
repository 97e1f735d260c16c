#pragma once

#include <string>
#include <vector>

namespace linkmargin::cli {

/// Puts the files of all shards together, in the order of their runs and whole or not at all, with a journal.
/// @throws Failure when one is unfinished, of another plan, or missing
void merge_rows(const std::vector<std::string>& parts, const std::string& output);

}  // namespace linkmargin::cli
