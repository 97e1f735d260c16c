#pragma once

#include "linkmargin/report/what_if/what_if_summary.hpp"
#include "linkmargin/report/words/wording.hpp"

#include <span>
#include <string>

// Inside report/ only: what changes do to a site, in plain words.
namespace linkmargin {

/// "40080 runs: the site as it is and 9 changes, 4008 runs each."
std::string runs_words(const Wording& wording, const WhatIfSummary& summary);

/// Of the site as it is, or the case's own.
std::string case_name(const Wording& wording, const std::string& name);

/// Of what changes the lowest reading by so much that it is worth a line, the first ones.
std::span<const Sensitivity> worth_swings(const SiteSummary& site);

/// No device, area or hub fails that did not or fails no more, and no reading moves by a percent.
bool makes_no_difference(const SiteSummary& site, const CaseChange& of);

/// What fails that did not, and what fails no more; where nothing does, which reading moves most: sentences.
std::string effect_words(const Wording& wording, const SiteSummary& site, const CaseChange& of);

/// Which change leaves the fewest failures, and of those the highest weakest reading; that none betters the
/// site as it is; nothing where there are no changes.
std::string best_words(const Wording& wording, const SiteSummary& site);

/// Which change does most harm; nothing where none does any.
std::string worst_words(const Wording& wording, const SiteSummary& site);

/// Nothing where each makes one.
std::string no_difference_words(const Wording& wording, const SiteSummary& site);

/// What it is that was changed alone.
std::string swing_words(const Wording& wording, const Sensitivity& of);

}  // namespace linkmargin
