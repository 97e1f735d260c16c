#pragma once

#include "linkmargin/site/radio.hpp"
#include "linkmargin/yaml/tree/object_reader.hpp"

namespace linkmargin::yaml {

/// Adds the entries of a map of profiles to a table; the same name replaces an entry.
void read_profiles(const Cursor& map, ProfileTable& into, Faults& faults);

}  // namespace linkmargin::yaml
