#pragma once

#include "linkmargin/report/document/document.hpp"

#include <string>
#include <vector>

namespace linkmargin {

/// What holds for every prediction, whole: one sentence or two each.
const std::vector<std::string>& standing_warnings();

/// Cautions of one result as a list.
BulletList warning_list(const std::vector<std::string>& warnings);

/// The same in few words, to stand at the end of a table.
const std::string& short_warning();

}  // namespace linkmargin
