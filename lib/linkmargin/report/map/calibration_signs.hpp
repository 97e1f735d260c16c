#pragma once

#include "linkmargin/propagation/fading/fade_posterior.hpp"
#include "linkmargin/report/drawing/svg.hpp"

#include <string>

// Inside report/ only: what readings look like in a picture of expected against read.
namespace linkmargin {

/// Where what is expected is what was read.
void draw_equal_line(svg::Writer& out, Point2 a, Point2 b);

/// An upright bar with a cap at either end: where nine of ten readings should lie.
void draw_interval(svg::Writer& out, Point2 low, Point2 high);

/// A disc for a value, a triangle that points to where a bound leaves room, a diamond for an outlier.
void draw_sign(svg::Writer& out, Point2 at, ReadingKind kind, bool outlier, const std::string& tooltip = {});

}  // namespace linkmargin
