#pragma once

#include "linkmargin/base/result.hpp"
#include "linkmargin/exchange/tracing/traced_plan.hpp"
#include "linkmargin/yaml/site/tables.hpp"

#include <string>

namespace linkmargin {

/// The text of a site file with the rooms, walls and openings of a traced plan, every place as coordinates.
/// Materials, heights and the place of its one hub are assumptions, marked as such.
/// @param name    of the site
/// @param source  the file it was traced from, for a comment
/// @return the file, which reads as a site; or what parse_site() finds wrong with it
Result<std::string> traced_site(const exchange::TracedPlan& plan, const std::string& name,
                                const std::string& source, const Tables& tables);

}  // namespace linkmargin
