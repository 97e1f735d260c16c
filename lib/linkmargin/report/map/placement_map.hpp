#pragma once

#include "linkmargin/analysis/placement/model/placement.hpp"
#include "linkmargin/messages/language.hpp"
#include "linkmargin/report/plan/plan_framing.hpp"

#include <string>

namespace linkmargin {

/// An SVG sheet: the storey where the best place of the hub lies, coloured by the least chance of all devices
/// if the hub stood there and the rest as chosen; outlined where that is within 1 dB of the best. Radios
/// stand where the first choice has them.
/// @param answer of the site, with a field
/// @param shown  what is large: the building, or all that is on the storey
/// @throws DomainError without one
std::string placement_svg(const Language& language, const Site& site, const PlacementAnswer& answer,
                          PlanFraming shown = PlanFraming::building);

}  // namespace linkmargin
