#pragma once

#include "linkmargin/analysis/relocation/relocation.hpp"
#include "linkmargin/messages/language.hpp"
#include "linkmargin/report/document/document.hpp"
#include "linkmargin/report/document/typed_site.hpp"

#include <string>
#include <vector>

namespace linkmargin {

/// What to try for each device, in order. @param relocation of the site
Document relocation_document(const Language& language, const Site& site, const Relocation& relocation,
                             const TypedSite& typed = {});

/// One row a remedy: device, rung, radio, distance_m, x_m, y_m, height_m, storey, reading_percent,
/// reading_low_percent, reading_high_percent, pass_probability, enough, text.
Table relocation_rows(const Language& language, const Site& site, const Relocation& relocation);

/// As docs/commands/relocate.md has it.
std::string relocation_json(const Language& language, const Site& site, const Relocation& relocation);

}  // namespace linkmargin
