#pragma once

#include "linkmargin/site/site.hpp"
#include "linkmargin/yaml/fields/field_reader.hpp"
#include "linkmargin/yaml/short_form/storey_measures.hpp"

#include <vector>

namespace linkmargin::yaml {

/// One of the sections `hubs`, `repeaters`, `devices` and `areas`, by its key, into a site. Any other key:
/// nothing.
/// @param measures  of each storey of the site
void read_radios(std::string_view key, const Cursor& map, const StoreyNames& storeys,
                 const std::vector<StoreyMeasures>& measures, Site& site, Faults& faults);

/// A number of slots, or a map of them by class.
Capacity read_capacity(const Cursor& cursor, Faults& faults);

}  // namespace linkmargin::yaml
