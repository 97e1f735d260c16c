#pragma once

#include "linkmargin/analysis/coverage/coverage.hpp"
#include "linkmargin/report/drawing/picture.hpp"
#include "linkmargin/report/drawing/svg.hpp"

#include <memory>
#include <string>

// Inside report/ only: what a map's colours, lines and hatches look like, and what they mean.
namespace linkmargin {

/// The pattern "weak".
void draw_weak_hatch(svg::Writer& out);

/// The line where the reading meets the threshold. @param path as an SVG path takes it
void draw_threshold_line(svg::Writer& out, const std::string& path);

/// The bar that explains the palette: its size, all colours from the weakest, and a figure where `at` lies on
/// its lower edge.
inline constexpr double kBarPx = 16;
inline constexpr double kBarWidthPx = 420;
std::shared_ptr<const IndexedPicture> palette_ramp();
void draw_palette_figure(svg::Writer& out, Point2 at, const std::string& figure);

/// The palette with its figures and the sign of the weak zone. @return where they end, y
double draw_coverage_legend(svg::Writer& out, const CoverageMap& map, CoverageValue value, Point2 corner);

}  // namespace linkmargin
