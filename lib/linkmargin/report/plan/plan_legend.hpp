#pragma once

#include "linkmargin/report/plan/plan_frame.hpp"
#include "linkmargin/report/words/wording.hpp"

namespace linkmargin::plan {

/// The signs that occur, in rows as wide as the sheet. @return where the legend ends, y
double draw_legend(const Wording& wording, svg::Writer& out, const Signs& signs, Point2 corner,
                   double width_px);

}  // namespace linkmargin::plan
