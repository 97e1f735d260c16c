#pragma once

#include "linkmargin/geometry/point.hpp"

#include <string_view>
#include <vector>

// Inside report/ only: letters as lines, for pictures of pixels, where no font can be asked for.
namespace linkmargin {

/// The strokes of a text set in an own upright face of straight strokes, the baseline beginning at the
/// origin, y downwards, one pixel a font size. Latin letters with accents are set without them; what the face
/// lacks is set as an open box.
std::vector<std::vector<Point2>> text_strokes_em(std::string_view text);

/// How far the text reaches, for a font of one pixel.
double stroked_width_em(std::string_view text);

}  // namespace linkmargin
