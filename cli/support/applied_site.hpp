#pragma once

#include "linkmargin/site/edit/edit.hpp"
#include "linkmargin/site/warning.hpp"

#include "support/input.hpp"

#include <string>
#include <vector>

namespace linkmargin::cli {

/// The person's own text of a site with what was chosen to be done written into it.
/// @param warnings  of the answer: says first what was written
/// @throws Failure when it cannot be written there
std::string applied_site(const SiteFile& file, const std::vector<Edit>& edits,
                         std::vector<Warning>& warnings);

}  // namespace linkmargin::cli
