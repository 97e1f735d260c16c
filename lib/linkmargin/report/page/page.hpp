#pragma once

#include "linkmargin/report/page/page_options.hpp"

namespace linkmargin {

/// A report on a site as one HTML page that asks for nothing from anywhere: a verdict in a sentence, the plan
/// with what devices read everywhere, what to do, a card for each device (the reading expected with its
/// range, the way of the signal on a small plan, what takes how much of it, why in plain words, what can be
/// done), cases side by side, before and after, readings against what was predicted, and on the last pages
/// assumptions, tables, sources and cautions. Everything is there without scripts; the page's own script
/// shows one storey, one state of the doors and one value at a time, and points out what belongs to a device.
/// @param site   sound, the one that was reviewed
/// @return the same bytes for the same input
std::string page_html(const Site& site, const SiteReview& review, const Language& language,
                      const PageOptions& options = {});

}  // namespace linkmargin
