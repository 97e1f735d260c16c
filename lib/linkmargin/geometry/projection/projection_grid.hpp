#pragma once

#include "linkmargin/geometry/polygon.hpp"

#include <span>
#include <vector>

namespace linkmargin {

/// What casts projections. Heights above one common zero; plan coordinates snapped.
/// An upright rectangle over a segment of the plan.
struct UprightPanel {
  Segment2 base;
  double bottom_m = 0;  ///< half-open: bottom counts, top does not
  double top_m = 0;
};

/// A level sheet with holes.
struct LevelPlate {
  Polygon2 outline;
  std::vector<Polygon2> holes;
  double z_m = 0;
};

/// An upright prism.
struct UprightPrism {
  Polygon2 outline;
  Box2 box;  ///< of the outline
  double bottom_m = 0;
  double top_m = 0;
};

/// Whether the line from a to b crosses the panel: half-open in plan (see crosses()) and in height. Swapping
/// the ends changes nothing.
/// @param a, b  plan coordinates snapped; so below
bool blocks(const UprightPanel& panel, Point3 a, Point3 b);

/// Whether the ends lie on different sides, an end on the plate counting as above it, and the line does not
/// pass through one of its holes. The place on the plate is snapped first.
bool blocks(const LevelPlate& plate, Point3 a, Point3 b);

/// Whether some part of the line longer than nothing runs inside.
bool blocks(const UprightPrism& prism, Point3 a, Point3 b);

/// The cells of a level plane by their centres, snapped: column i, row j has its centre at (xs[i], ys[j], z).
struct ProjectionGrid {
  /// @param corner  lower left corner of the first cell; the rest > 0
  ProjectionGrid(Point2 corner, double step_m, int columns, int rows, double z_m);

  Point3 centre(int column, int row) const {
    return {xs[static_cast<std::size_t>(column)], ys[static_cast<std::size_t>(row)], z_m};
  }

  Point2 corner;
  double step_m;
  int columns;
  int rows;
  double z_m;
  std::vector<double> xs;  ///< increasing
  std::vector<double> ys;
};

/// Cells of one row: columns from `from` up to, not including, `to`.
struct Span {
  int from = 0;
  int to = 0;
  friend bool operator==(const Span&, const Span&) = default;
};

/// Part of a row whose cells are asked one by one.
struct ProjectionCut {
  double from_m = 0;
  double to_m = 0;
};

/// As far as a projection need be followed: no two places are farther apart.
inline constexpr double kFarM = 4 * 4096.0;

}  // namespace linkmargin
