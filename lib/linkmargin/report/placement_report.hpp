#pragma once

#include "linkmargin/analysis/placement/model/placement.hpp"
#include "linkmargin/messages/language.hpp"
#include "linkmargin/report/document/document.hpp"

#include <string>
#include <vector>

namespace linkmargin {

/// The answer of `place` for people: where hubs and repeaters go, what that gains and how sure it is, every
/// device's reading there, what it is compared with, and what to mind. @param answer of the site
Document placement_document(const Language& language, const Site& site, const PlacementAnswer& answer);

/// One row a hub or repeater of each choice: choice, kind, name, storey, x_m, y_m, height_m, moved_m, serves,
/// slots_used, worst, worst_pass_probability, worst_reading_percent, weak_count.
Table placement_rows(const Site& site, const PlacementAnswer& answer);

/// The keys of docs/commands/place.md.
std::string placement_json(const Language& language, const Site& site, const PlacementAnswer& answer);

/// What is proved of the choice, in a sentence or two.
std::string placement_proof(const Language& language, const PlacementAnswer& answer);

}  // namespace linkmargin
