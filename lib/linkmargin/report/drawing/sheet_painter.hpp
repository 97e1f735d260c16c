#pragma once

#include "linkmargin/report/drawing/picture.hpp"
#include "linkmargin/report/drawing/svg.hpp"

// Inside report/ only: a drawn sheet as pixels.
namespace linkmargin {

/// Paints what a writer collected, for the shapes, attributes and patterns that the drawings of report/ use.
/// Tooltips are left out.
/// @param scale pixels a sheet pixel, > 0
/// @throws DomainError on an element or colour that it does not know: a drawing has outgrown it
Picture painted(const svg::Writer& sheet, double scale);

/// Two pixels a sheet pixel, fewer where the picture would have more than kMostSheetPixels.
double picture_scale(const svg::Writer& sheet);
inline constexpr double kMostSheetPixels = 40e6;

}  // namespace linkmargin
