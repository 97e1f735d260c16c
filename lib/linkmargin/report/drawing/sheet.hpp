#pragma once

#include "linkmargin/report/drawing/svg.hpp"

#include <string>
#include <vector>

// Inside report/ only: what all drawn sheets are made of.
namespace linkmargin {

/// White paper of a size in pixels with what is drawn on it; the definitions (hatches) come first.
svg::Writer sheet(svg::Writer definitions, svg::Writer body, Point2 size_px);

/// A text set in lines from a place to the right. @return where the next line would stand, y
double draw_lines(svg::Writer& out, Point2 at, double width_px, const std::string& text, double font_px,
                  const char* colour, bool bold);

void draw_line(svg::Writer& out, Point2 a, Point2 b, const char* colour, const char* width_px);

/// As the attribute "d" of a path takes it, to a tenth of a pixel.
std::string outline_path(const std::vector<Point2>& points_px, bool closed);

}  // namespace linkmargin
