#pragma once

#include "linkmargin/report/plan/plan_frame.hpp"
#include "linkmargin/report/plan/plan_symbols.hpp"
#include "linkmargin/report/words/wording.hpp"

namespace linkmargin::plan {

/// Draws everything but the frame's rulers. @return how many names found no room
int draw_storey(const Wording& wording, svg::Writer& out, const Site& site, std::size_t storey,
                const Frame& frame, Signs& signs, const Underlay* underlay = nullptr);

/// Of a plan over a map what is no radio and no name: openings of the floor, areas, obstacles, walls.
void draw_over_map(const Wording& wording, svg::Writer& out, const Site& site, std::size_t storey,
                   const Frame& frame, Signs& signs);

/// Of a storey what the frame shows of its rooms, walls, openings and obstacles alone, without a name.
void draw_building(const Wording& wording, svg::Writer& out, const Site& site, std::size_t storey,
                   const Frame& frame, Signs& signs);

}  // namespace linkmargin::plan
