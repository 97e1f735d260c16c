#pragma once

#include "linkmargin/report/drawing/contour.hpp"
#include "linkmargin/report/words/coverage_words.hpp"
#include "linkmargin/report/drawing/picture.hpp"

#include <string>

// Inside report/ only: a map's own part of its sheet.
namespace linkmargin {

/// Colours of the palette that a picture uses: steps of 0.6 % of the scale, under what is just seen.
inline constexpr std::size_t kMapColours = 160;

/// The values in their colours, interpolated between the centres of cells. The upper row is the far one.
/// @param px_per_m pixels a metre; at most kMostPicturePx a side
IndexedPicture coverage_picture(const CoverageMap& map, CoverageValue value, double px_per_m);
inline constexpr double kMostPicturePx = 4000;

/// What the threshold separates, in site metres.
struct WeakZone {
  std::vector<ContourLine> lines;             ///< where the reading meets the threshold
  std::vector<std::vector<Point2>> outlines;  ///< round all that is weak, holes the other way round
};

/// @param tolerance_m by which lines are simplified; specks and lines shorter than kSpeck times that are left
/// out
WeakZone weak_zone(const CoverageMap& map, double tolerance_m);
inline constexpr double kSpeck = 20;

}  // namespace linkmargin
