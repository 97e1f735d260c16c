#pragma once

#include "linkmargin/report/plan/plan_frame.hpp"
#include "linkmargin/report/words/wording.hpp"

// Inside report/ only: what tells lengths on a plan.
namespace linkmargin::plan {

/// The length of about so many metres that reads well: 1, 2 or 5 times a power of ten.
double round_length_m(double about_m);

/// Between the lines of a grid: some 34 pixels, and 5 m where the sheet shows more than 25 m.
double grid_step_m(double px_per_m, double longest_m, LengthUnit unit);

/// A faint grid in site metres over `own` and so much beyond it, with its figures at the left of the lines
/// and under them. @param lines_px where the lines run on the sheet
void draw_grid(const Wording& wording, svg::Writer& out, const Frame& frame, const Box2& own, double beyond_m,
               double step_m, const Box2& lines_px);

/// Where the arrow to the north stands: in a corner of a plan where no radio is, the upper right one first.
Box2 north_box(const Site& site, std::size_t storey, const Frame& frame);

/// @param north_deg  clockwise from upwards on the plan
void draw_north(const Wording& wording, svg::Writer& out, const Box2& box, double north_deg);

/// About 100 pixels long, in four parts; `at` is its upper left corner.
void draw_scale_bar(const Wording& wording, svg::Writer& out, Point2 at, double px_per_m);

}  // namespace linkmargin::plan
