#pragma once

#include "linkmargin/site/building.hpp"
#include "linkmargin/yaml/tree/object_reader.hpp"

#include <vector>

namespace linkmargin::yaml {

/// The section `storeys`. A storey without a readable name goes by its position, a room without a readable
/// shape is a square far from all others, so that what can be judged of the rest still can.
std::vector<Storey> read_storeys(const Cursor& list, Faults& faults);

}  // namespace linkmargin::yaml
