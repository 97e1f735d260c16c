#pragma once

#include "linkmargin/analysis/coverage/coverage.hpp"
#include "linkmargin/report/drawing/palette.hpp"
#include "linkmargin/report/drawing/svg.hpp"
#include "linkmargin/report/words/wording.hpp"

#include <string>

// Inside report/ only: what a map's colours, lines and hatches look like, and what they mean.
namespace linkmargin {

/// The pattern "weak".
void draw_weak_hatch(svg::Writer& out);

/// The line where the reading meets the threshold. @param path as an SVG path takes it
void draw_threshold_line(svg::Writer& out, const std::string& path);

/// The bar that explains the palette: all colours from the weakest, and a figure where `at` lies on its lower
/// edge.
inline constexpr double kLegendBarPx = 16;
inline constexpr double kBarWidthPx = 420;
/// @param threshold  as map_colour() takes it
void draw_palette(svg::Writer& out, const Box2& bar, double threshold);
void draw_palette_figure(svg::Writer& out, Point2 at, const std::string& figure);

/// A sample of a zone with the line round it, beside a palette's bar.
void draw_zone_sample(svg::Writer& out, const Box2& bar, Rgb colour, bool hatched, const std::string& words);

/// The palette with its figures and the sign of the weak zone. @return where they end, y
double draw_coverage_legend(const Wording& wording, svg::Writer& out, const CoverageMap& map,
                            CoverageValue value, Point2 corner);

}  // namespace linkmargin
