#pragma once

#include "linkmargin/site/material.hpp"
#include "linkmargin/yaml/tree/object_reader.hpp"

namespace linkmargin::yaml {

/// Adds the entries of a map of materials to a table; the same name replaces an entry. What the layers are
/// made of is checked once all are read.
void read_materials(const Cursor& map, MaterialTable& into, Faults& faults);

}  // namespace linkmargin::yaml
