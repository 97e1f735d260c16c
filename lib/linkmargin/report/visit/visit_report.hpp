#pragma once

#include "linkmargin/analysis/visit/visit_plan.hpp"
#include "linkmargin/messages/language.hpp"
#include "linkmargin/report/document/document.hpp"
#include "linkmargin/report/document/typed_site.hpp"

#include <string>

namespace linkmargin {

/// The plan for whoever walks it: verdict, what to take along, the stops in order. @param plan of the site
Document visit_document(const Language& language, const Site& site, const VisitPlan& plan,
                        const TypedSite& typed = {});

/// One row a stop: stop, kind, radio, storey, x_m, y_m, height_m, read_percent, reading_before_percent,
/// pass_probability_before, hub, via, spacer, moves, spots, reading_percent, pass_probability,
/// spots_pass_probability, met, ends_at_percent, text.
Table visit_rows(const Language& language, const Site& site, const VisitPlan& plan);

/// As docs/commands/visit.md has it.
std::string visit_json(const Language& language, const Site& site, const VisitPlan& plan);

/// No column is wider: the plan is read on a telephone.
inline constexpr int kVisitTextWidth = 60;

}  // namespace linkmargin
