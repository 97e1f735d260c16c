#pragma once

#include "linkmargin/geometry/point.hpp"

#include <string>
#include <vector>

namespace linkmargin::validation {

struct Series {
  std::string name;
  std::vector<Point2> points;  ///< in the units of the axes
};

struct Axis {
  std::string label;  ///< with its unit
  double from = 0;
  double to = 1;
  double step = 1;   ///< between ticks
  int decimals = 0;  ///< of the tick labels
};

/// A few lines over one another, told apart by colour, dashes and a legend.
struct LineChart {
  std::string title;
  Axis x;
  Axis y;
  std::vector<Series> series;        ///< at most kMostSeries
  std::vector<std::string> caption;  ///< lines under the chart: sources
};

inline constexpr std::size_t kMostSeries = 6;

/// The chart as SVG 1.1, the same bytes for the same chart. Points outside the axes are cut at the frame.
/// @throws std::invalid_argument for more than kMostSeries or an axis without extent
std::string line_chart_svg(const LineChart& chart);

}  // namespace linkmargin::validation
