#pragma once

#include "linkmargin/site/site.hpp"

#include <cstddef>
#include <string>

namespace linkmargin::exchange {

/// The plan of a storey as a drawing in DXF, text form of R12, in metres: walls as lines as wide as they are
/// thick on the layer `walls`, `doors` and `windows` as lines in their gaps, outlines of `rooms` to the
/// middle of walls, their `names`, and where `hubs`, `repeaters` and `devices` hang. parse_dxf() and
/// traced_plan() read the same rooms from it. Letters beyond ASCII are written `\U+XXXX`, those beyond the
/// first plane of Unicode '?'.
/// @param site    sound: validate(site) is empty
/// @param storey  position in Site::storeys
std::string plan_dxf(const Site& site, std::size_t storey);

}  // namespace linkmargin::exchange
