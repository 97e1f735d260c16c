#pragma once

#include "linkmargin/analysis/survey/reading_verdict.hpp"
#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/report/words/wording.hpp"

#include <string>
#include <vector>

namespace linkmargin {

/// What may make a reading lower than walls and a fade do, the quickest to check first. None of it is found:
/// the program knows no more than the site file (common practice).
/// @param table of all pairs, so that a wrong hub's reading is known
std::vector<std::string> reading_looks(const Wording& wording, const Site& site, const LinkTable& table,
                                       const Link& link, const ReadingAnswer& answer);

}  // namespace linkmargin
