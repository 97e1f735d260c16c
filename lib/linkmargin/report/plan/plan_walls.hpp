#pragma once

#include "linkmargin/report/plan/plan_frame.hpp"
#include "linkmargin/report/words/wording.hpp"
#include "linkmargin/site/wall_plan.hpp"

namespace linkmargin::plan {

/// Walls to their thickness, in the colour of their material, with the gaps and leaves of their openings.
/// @param pale_rims round the walls, so that they stay apart from what is dark under them
void draw_walls(const Wording& wording, svg::Writer& out, const Site& site, const Storey& storey,
                const std::vector<WallPiece>& walls, const Frame& frame, Signs& signs,
                bool pale_rims = false);

/// The colours of a site's materials of walls, the same on all its plans. Materials beyond the last colour
/// begin anew.
class WallFills {
 public:
  explicit WallFills(const Site& site);
  const char* of(const std::string& material) const;

 private:
  std::vector<std::string> materials_;
};

/// How thick a wall is drawn.
double thickness_px(const WallPiece& piece, const Frame& frame);

}  // namespace linkmargin::plan
