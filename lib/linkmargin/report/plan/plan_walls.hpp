#pragma once

#include "linkmargin/report/plan/plan_frame.hpp"
#include "linkmargin/report/words/wording.hpp"
#include "linkmargin/site/wall_plan.hpp"

namespace linkmargin::plan {

/// Walls to their thickness, with the gaps and leaves of their openings.
/// @param pale_rims round the walls, so that they stay apart from what is dark under them
void draw_walls(const Wording& wording, svg::Writer& out, const Storey& storey,
                const std::vector<WallPiece>& walls, const Frame& frame, Signs& signs,
                bool pale_rims = false);

/// How thick a wall is drawn.
double thickness_px(const WallPiece& piece, const Frame& frame);

}  // namespace linkmargin::plan
