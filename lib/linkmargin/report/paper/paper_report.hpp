#pragma once

#include "linkmargin/report/page/page_options.hpp"

#include <string>
#include <vector>

namespace linkmargin {

/// A report on a site to print and to hand out: A4 pages, each an SVG whose texts are texts. Verdict and
/// plan, what to do, a card for each device that is weak or doubtful, all devices in a table, and what the
/// figures rest on. Names and texts are wrapped or shortened where a line has no room for them.
/// @param site   sound, the one that was reviewed
/// @return the same pages for the same input; at least one
std::vector<std::string> paper_pages(const Site& site, const SiteReview& review, const Language& language,
                                     const PageOptions& options = {});

}  // namespace linkmargin
