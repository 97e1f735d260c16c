#pragma once

#include "linkmargin/site/building.hpp"
#include "linkmargin/site/material.hpp"
#include "linkmargin/yaml/tree/object_reader.hpp"

namespace linkmargin::yaml {

/// Adds the entries of a map of materials to a table; the same name replaces an entry. What the layers are
/// made of is checked once all are read.
void read_materials(const Cursor& map, MaterialTable& into, Faults& faults);

/// The keys of a construction inside a map that has others too: `material`, needed, and `thickness_m`.
Construction read_construction(ObjectReader& reader);

/// The map {material: ..., thickness_m: ...}.
Construction read_construction(const Cursor& cursor, Faults& faults);

}  // namespace linkmargin::yaml
