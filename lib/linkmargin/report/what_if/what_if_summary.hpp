#pragma once

#include "linkmargin/analysis/what_if/what_if_changes.hpp"
#include "linkmargin/analysis/what_if/what_if_statistics.hpp"

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

namespace linkmargin {

/// What one site's cases and swept values come to.
struct SiteSummary {
  std::string file;
  ReadingScale reading;
  std::vector<CaseChange> cases;  ///< what_if_changes()
  std::vector<Sensitivity> sensitivity;
};

inline constexpr std::size_t kSummarySites = 5;

/// What many runs come to.
struct WhatIfSummary {
  std::uint64_t runs = 0;
  std::size_t sites = 0;
  std::vector<std::string> cases;  ///< names, the site as it is first
  bool draws = false;
  std::vector<SiteSummary> of_sites;       ///< of the first kSummarySites
  std::vector<CaseStatistics> statistics;  ///< one a case; empty: the runs were not made
};

}  // namespace linkmargin
