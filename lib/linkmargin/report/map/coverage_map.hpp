#pragma once

#include "linkmargin/analysis/coverage/coverage.hpp"
#include "linkmargin/messages/language.hpp"
#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/report/plan/plan_framing.hpp"

#include <string>

namespace linkmargin {

/// The map of a storey under its plan, as an SVG sheet: the value in the colours of an own palette, strong
/// light and weak dark; the line at which the reading meets the threshold, whatever the value; all under it
/// hatched; each device in the colour of its own link with its figure, weak ones ringed; a scale bar and a
/// legend. Weak spots and lines smaller than some pixels are not drawn.
/// @param site the one that the map and the table were made from
/// @param table of all pairs, so that with one hub each device shows its link with that one
/// @param shown  what is large: the building, or all that is on the storey
std::string coverage_svg(const Language& language, const Site& site, const CoverageMap& map,
                         const LinkTable& table, CoverageValue value,
                         PlanFraming shown = PlanFraming::building);

}  // namespace linkmargin
