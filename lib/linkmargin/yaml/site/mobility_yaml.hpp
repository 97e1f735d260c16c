#pragma once

#include "linkmargin/site/radio.hpp"
#include "linkmargin/yaml/tree/object_reader.hpp"

namespace linkmargin::yaml {

/// The map `may_move`: exactly one of radius_m, along_m, within and within_m.
Mobility read_mobility(const Cursor& cursor, Faults& faults);

}  // namespace linkmargin::yaml
