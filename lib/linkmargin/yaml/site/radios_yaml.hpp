#pragma once

#include "linkmargin/site/site.hpp"
#include "linkmargin/yaml/tree/object_reader.hpp"

namespace linkmargin::yaml {

/// The sections `hubs`, `repeaters`, `devices` and `areas` of the top of a site file, into a site whose
/// storeys are read.
/// @param storeys_known  whether every storey has a name, so that an unknown one can be told
void read_radios(ObjectReader& top, Site& site, bool storeys_known, Faults& faults);

/// A number of slots, or a map of them by class.
Capacity read_capacity(const Cursor& cursor, Faults& faults);

}  // namespace linkmargin::yaml
