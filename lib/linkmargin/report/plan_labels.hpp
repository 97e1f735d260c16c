#pragma once

#include "linkmargin/report/plan_drawing.hpp"
#include "linkmargin/site/wall_plan.hpp"

namespace linkmargin::plan {

/// The names of rooms, radios, obstacles, floor openings, areas, traced walls and openings, in this order of
/// precedence.
/// @return how many found no room
int draw_labels(svg::Writer& out, const Site& site, std::size_t storey, const std::vector<WallPiece>& walls,
                const Frame& frame);

}  // namespace linkmargin::plan
