#pragma once

#include "linkmargin/geometry/box.hpp"
#include "linkmargin/site/site.hpp"

namespace linkmargin {

/// The box in plan about all that is on a storey: rooms, walls, openings in its floor, obstacles, radios,
/// areas.
/// @param storey position in the site's storeys
/// @return metres; empty() where nothing is
Box2 storey_extent(const Site& site, std::size_t storey);

}  // namespace linkmargin
