#pragma once

#include "linkmargin/report/plan/plan_drawing.hpp"
#include "linkmargin/report/words/coverage_words.hpp"

// Inside report/ only: what a map puts under a plan.
namespace linkmargin {

/// The values in their colours, the weak zone hatched (draw_weak_hatch()), and the line round it.
void draw_coverage(svg::Writer& out, const CoverageMap& map, CoverageValue value, const plan::Frame& frame);

/// Where a map lies, in site metres.
Box2 map_box(const CoverageMap& map);

}  // namespace linkmargin
