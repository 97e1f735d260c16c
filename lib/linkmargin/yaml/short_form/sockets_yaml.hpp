#pragma once

#include "linkmargin/site/building.hpp"
#include "linkmargin/text/faults.hpp"
#include "linkmargin/yaml/tree/cursor.hpp"

#include <vector>

namespace linkmargin::yaml {

/// One socket or a list of them; each is "left wall, 0.4 m from bottom", a map with that text as `on`, or a
/// map with `at_m: [x, y]`. Those that cannot be read are left out.
std::vector<Socket> read_sockets(const Cursor& cursor, Faults& faults);

}  // namespace linkmargin::yaml
