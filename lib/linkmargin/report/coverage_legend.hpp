#pragma once

#include "linkmargin/analysis/coverage.hpp"
#include "linkmargin/report/svg.hpp"

#include <string>

// Inside report/ only: what a map's colours, lines and hatches look like, and what they mean.
namespace linkmargin {

/// The pattern "weak".
void draw_weak_hatch(svg::Writer& out);

/// The line where the reading meets the threshold. @param path as an SVG path takes it
void draw_threshold_line(svg::Writer& out, const std::string& path);

/// The palette with its figures and the sign of the weak zone. @return where they end, y
double draw_coverage_legend(svg::Writer& out, const CoverageMap& map, CoverageValue value, Point2 corner);

}  // namespace linkmargin
