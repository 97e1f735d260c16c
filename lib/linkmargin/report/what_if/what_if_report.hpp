#pragma once

#include "linkmargin/analysis/what_if/what_if_statistics.hpp"
#include "linkmargin/messages/language.hpp"
#include "linkmargin/report/document/document.hpp"
#include "linkmargin/report/what_if/what_if_summary.hpp"

#include <string>
#include <vector>

namespace linkmargin {

/// What many runs come to.
struct WhatIfSummary {
  std::uint64_t runs = 0;
  std::size_t sites = 0;
  std::vector<std::string> cases;  ///< names, the site as it is first
  bool draws = false;
  std::vector<SiteSummary> of_sites;       ///< of the first kSummarySites
  std::vector<CaseStatistics> statistics;  ///< one a case; empty: the runs were not made
};

inline constexpr std::size_t kSummarySites = 5;

/// Without the runs' statistics.
/// @throws DomainError as what_if() does
WhatIfSummary what_if_summary(const WhatIf& what_if, const WhatIfOptions& options);

/// For people: what each case makes of the site, how the runs are spread, what matters most.
Document what_if_document(const Language& language, const WhatIfSummary& summary);

}  // namespace linkmargin
