#pragma once

#include "linkmargin/geometry/polygon.hpp"
#include "linkmargin/report/drawing/picture.hpp"

#include <optional>
#include <vector>

// Inside report/ only: shapes to pixels.
namespace linkmargin {

/// Parallel lines over a paper, in pixels; the first through the origin.
struct Hatch {
  double spacing_px = 6;
  double line_px = 1;
  double angle_deg = 0;      ///< of the lines against the vertical, clockwise on the sheet
  std::optional<Rgb> paper;  ///< absent: what lies under it is seen between the lines
};

struct Ink {
  Rgb colour;
  double opacity = 1;
  std::optional<Hatch> hatch;  ///< absent: all over
};

/// A sheet of pixels; pixel (0, 0) covers x 0..1 and y 0..1, y downwards. A pixel takes as much of an ink as
/// of its area is covered, so that edges are smooth. Shapes may reach beyond the sheet.
class Raster {
 public:
  Raster(std::size_t width, std::size_t height, Rgb paper);

  /// The union of outlines that run the same way round; one that runs the other way is a hole.
  void fill(const std::vector<Polygon2>& outlines, const Ink& ink);

  /// A line with round corners.
  void stroke(const std::vector<Point2>& line, bool closed, double width_px, const Ink& ink,
              bool round_ends = false);

  /// A line in dashes: lengths drawn and left out in turn, all over 0.
  void stroke_dashed(const std::vector<Point2>& line, bool closed, double width_px,
                     const std::vector<double>& dashes_px, const Ink& ink);

  /// A picture stretched over a place, each pixel the nearest of the picture's.
  void place(const IndexedPicture& picture, const Box2& place);

  const Picture& picture() const { return picture_; }

 private:
  void blend(std::size_t x, std::size_t y, double coverage, const Ink& ink);
  Picture picture_;
};

}  // namespace linkmargin
