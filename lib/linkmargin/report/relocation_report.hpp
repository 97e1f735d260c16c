#pragma once

#include "linkmargin/messages/language.hpp"
#include "linkmargin/analysis/relocation/relocation.hpp"
#include "linkmargin/report/document/document.hpp"

#include <string>

namespace linkmargin {

/// The ladder of each device, in words and figures. @param relocation of the site
Document relocation_document(const Language& language, const Site& site, const Relocation& relocation);

/// One row a remedy: device, rung, radio, distance_m, x_m, y_m, height_m, storey, reading_percent,
/// reading_low_percent, reading_high_percent, pass_probability, enough, text.
Table relocation_rows(const Language& language, const Site& site, const Relocation& relocation);

/// As docs/commands.md has it.
std::string relocation_json(const Language& language, const Site& site, const Relocation& relocation);

/// One remedy in a sentence or two, without the figures of its chance.
std::string remedy_words(const Site& site, const Relocation& relocation, const DeviceRelocation& device,
                         const Remedy& remedy);

}  // namespace linkmargin
