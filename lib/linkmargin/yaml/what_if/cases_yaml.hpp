#pragma once

#include "linkmargin/base/result.hpp"
#include "linkmargin/site/edit/what_if.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace linkmargin {

/// Reads a file of cases (docs/site-file/changes.md): at most kCases, each with its
/// edits. `site` may stand beside them and is not looked at.
/// @param text       the bytes of the file: UTF-8, with or without a byte-order mark, any line ends
/// @param file_name  as the person named it, for the faults
/// @param site       sound by validate(); each case is tried on it
/// @return at least one case, each of which edited_site() makes of the site; or every fault by line and
/// column
Result<std::vector<NamedEdits>> parse_cases(std::string_view text, const std::string& file_name,
                                            const Site& site);

}  // namespace linkmargin
