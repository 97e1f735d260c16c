#pragma once

#include "linkmargin/site/site.hpp"
#include "linkmargin/text/faults.hpp"
#include "linkmargin/yaml/tree/node.hpp"

#include <string_view>

namespace linkmargin::yaml {

/// Adds what validate() finds in a site to the faults of its file, each at the line of the longest part of
/// its path that stands there. Where the site could not be read whole, what may only follow from a
/// placeholder is left out: findings on a value in doubt, on an item that has one, on rooms, walls or storeys
/// that have one, on a name whose section does. Nothing is added where the faults are full.
void add_findings(const Node& root, const Site& site, Faults& faults);

}  // namespace linkmargin::yaml
