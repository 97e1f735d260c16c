#pragma once

#include "linkmargin/report/drawing/contour.hpp"
#include "linkmargin/report/words/coverage_words.hpp"

#include <cstddef>
#include <vector>

// Inside report/ only: the lines of a map.
namespace linkmargin {

/// Outlines in site metres; holes run the other way round.
using Zone = std::vector<std::vector<Point2>>;

/// For each step of the palette (map_steps()) but the weakest, which lies all over: where the value has that
/// colour or a stronger one, linear between the centres of cells. So each zone lies on the one before it, and
/// no paper shows through.
/// @param tolerance_m by which lines are simplified; zones smaller than kSpeck times that are left out
std::vector<Zone> colour_zones(const CoverageMap& map, CoverageValue value, double tolerance_m);

/// What the threshold separates, in site metres.
struct WeakZone {
  std::vector<ContourLine> lines;  ///< where the reading meets the threshold
  Zone outlines;                   ///< round all that is weak
};

/// @param tolerance_m as above
WeakZone weak_zone(const CoverageMap& map, double tolerance_m);
inline constexpr double kSpeck = 20;

/// Where what serves best changes from one hub or repeater to another; none where one alone counts.
/// @param tolerance_m as above
std::vector<ContourLine> serving_lines(const CoverageMap& map, double tolerance_m);

}  // namespace linkmargin
