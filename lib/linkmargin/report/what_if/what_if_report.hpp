#pragma once

#include "linkmargin/messages/language.hpp"
#include "linkmargin/report/document/document.hpp"
#include "linkmargin/report/what_if/what_if_summary.hpp"

namespace linkmargin {

/// Without the runs' statistics.
/// @throws DomainError as what_if() does
WhatIfSummary what_if_summary(const WhatIf& what_if, const WhatIfOptions& options);

/// With them: all runs are made.
/// @throws DomainError as what_if() does
WhatIfSummary what_if_runs_summary(const WhatIf& what_if, const WhatIfOptions& options);

/// For people: what each case makes of the site, how the runs are spread, what matters most.
Document what_if_document(const Language& language, const WhatIfSummary& summary);

}  // namespace linkmargin
