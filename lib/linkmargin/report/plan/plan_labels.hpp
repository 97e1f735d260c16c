#pragma once

#include "linkmargin/report/plan/plan_frame.hpp"
#include "linkmargin/report/words/wording.hpp"
#include "linkmargin/site/wall_plan.hpp"

namespace linkmargin::plan {

/// The names of rooms, radios, obstacles, floor openings, areas, traced walls and openings, in this order of
/// precedence; over a map those of rooms, radios and areas alone.
/// @return how many found no room
int draw_labels(const Wording& wording, svg::Writer& out, const Site& site, std::size_t storey,
                const std::vector<WallPiece>& walls, const Frame& frame, const Underlay* underlay = nullptr);

}  // namespace linkmargin::plan
