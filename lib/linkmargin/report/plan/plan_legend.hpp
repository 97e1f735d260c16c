#pragma once

#include "linkmargin/report/plan/plan_frame.hpp"
#include "linkmargin/report/words/wording.hpp"

#include <functional>
#include <string>
#include <vector>

namespace linkmargin::plan {

/// A sign about its middle, and what it means.
struct LegendEntry {
  std::string words;
  std::function<void(svg::Writer&, Point2)> draw;
};

/// What a sign takes up.
inline constexpr Point2 kLegendSignPx{30, 24};

std::vector<LegendEntry> legend_entries(const Wording& wording, const Signs& signs);

/// The signs that occur, in rows as wide as the sheet. @return where the legend ends, y
double draw_legend(const Wording& wording, svg::Writer& out, const Signs& signs, Point2 corner,
                   double width_px);

}  // namespace linkmargin::plan
