#pragma once

#include "linkmargin/report/words/coverage_words.hpp"
#include "linkmargin/report/plan/plan_drawing.hpp"

// Inside report/ only: what a map puts under a plan.
namespace linkmargin {

/// The values in their colours, the weak zone hatched (draw_weak_hatch()), and the line round it.
/// @param picture_px_per_m  pixels of the picture a metre; that of the frame where it is to be as fine
void draw_coverage(svg::Writer& out, const CoverageMap& map, CoverageValue value, const plan::Frame& frame,
                   double picture_px_per_m);

/// Where a map lies, in site metres.
Box2 map_box(const CoverageMap& map);

}  // namespace linkmargin
