#pragma once

#include "linkmargin/report/page/page_model.hpp"

#include <string>
#include <vector>

// Inside report/ only: a page's sentences on what can be done.
namespace linkmargin::page {

/// One thing to do, in a sentence or two.
std::string remedy_words(const PageModel& content, const DevicePage& entry, const Remedy& remedy);

/// What to try first of what the device's own place takes: a spacer, a hand's distance. None where it takes
/// little.
std::vector<std::string> mounting_words(const PageModel& content, const DevicePage& entry);

/// What then is expected; empty where it is not reckoned.
std::string outcome_words(const PageModel& content, const Remedy& remedy);

/// Why something is not proposed; empty where the cards say so anyway.
std::string left_out_words(const PageModel& content, SkipReason left_out);

}  // namespace linkmargin::page
