#pragma once

#include "linkmargin/report/drawing/svg.hpp"
#include "linkmargin/report/what_if/what_if_summary.hpp"
#include "linkmargin/report/words/wording.hpp"

#include <optional>
#include <string>
#include <vector>

// Inside report/ only: what runs come to, drawn.
namespace linkmargin {

/// How the lowest reading lies in one case.
struct CaseSpread {
  std::string name;                        ///< as it is shown
  std::optional<double> predicted{};       ///< percent
  std::optional<double> low{};             ///< between these nine times in ten; with `high`, and without
  std::optional<double> high{};            ///< `runs`
  const ReadingHistogram* runs = nullptr;  ///< of the lowest readings of many runs
  std::string note{};                      ///< beside it: in how many runs no device is weak
};

/// So many rows are drawn at most.
inline constexpr std::size_t kMostCaseRows = 60;

/// Of each site a bar for each thing that the lowest reading depends on, from its lowest to its highest, the
/// threshold marked.
/// @return how high that is; 0 where nothing swings, and nothing is drawn
double draw_dependence(svg::Writer& out, const Wording& wording, const SiteSummary& site, double width_px);

/// How that is read.
std::string dependence_words(const Wording& wording, const WhatIfSummary& summary);

/// A row a case: how the lowest readings of its runs lie, or between what the reading should lie, the
/// threshold marked. @return how high that is
double draw_spread(svg::Writer& out, const Wording& wording, const std::vector<CaseSpread>& cases,
                   double threshold_percent, double width_px);

/// How that is read.
std::string spread_words(const Wording& wording, const std::vector<CaseSpread>& cases);

/// Those of a summary: with the spread of the runs where they were made, else as predicted.
/// @param summary outlives these
std::vector<CaseSpread> case_spreads(const Wording& wording, const WhatIfSummary& summary);

}  // namespace linkmargin
