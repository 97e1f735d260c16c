#pragma once

#include "linkmargin/site/site.hpp"
#include "linkmargin/yaml/site/field_reader.hpp"

namespace linkmargin::yaml {

/// One of the sections `hubs`, `repeaters`, `devices` and `areas`, by its key, into a site. Any other key:
/// nothing.
void read_radios(std::string_view key, const Cursor& map, const StoreyNames& storeys, Site& site,
                 Faults& faults);

/// A number of slots, or a map of them by class.
Capacity read_capacity(const Cursor& cursor, Faults& faults);

}  // namespace linkmargin::yaml
