#pragma once

#include "linkmargin/geometry/polygon.hpp"

#include <span>
#include <vector>

namespace linkmargin {

/// What casts shadows. Heights above one common zero; plan coordinates snapped.
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
struct ShadowGrid {
  /// @param corner  lower left corner of the first cell; the rest > 0
  ShadowGrid(Point2 corner, double step_m, int columns, int rows, double z_m);

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
struct ShadowCut {
  double from_m = 0;
  double to_m = 0;
};

/// The shadow that a level plate, lit from one end, casts on a grid. A cell belongs to it exactly when
/// blocks() holds between the end and the cell's centre, for a centre on the very edge of the shadow too:
/// cells within rounding of an edge are asked one by one, and one cell of every run between two edges.
/// Keeps references to plate and grid.
class PlateShadow {
 public:
  PlateShadow(const LevelPlate& plate, Point3 end, const ShadowGrid& grid);

  /// Appends the row's spans, from left to right, none empty.
  void spans(int row, std::vector<Span>& spans) const;

  Span rows() const { return rows_; }  ///< outside them lies no shadow

 private:
  const LevelPlate* plate_;
  Point3 end_;
  const ShadowGrid* grid_;
  Span rows_;
  double fraction_ = 0;  // of the way from the end, at which the line meets the plate
};

/// The same of a prism.
class PrismShadow {
 public:
  PrismShadow(const UprightPrism& prism, Point3 end, const ShadowGrid& grid);
  void spans(int row, std::vector<Span>& spans) const;
  Span rows() const { return rows_; }

 private:
  void add_edges_at_end();
  void add_edges(double near, double far, std::span<const double> faces);

  const UprightPrism* prism_;
  Point3 end_;
  const ShadowGrid* grid_;
  Span rows_;
  double rounding_ = 0;  // relative, of magnifications
  struct Edge {
    Segment2 line;
    double slack_m = 0;
  };
  std::vector<Edge> edges_;  // of the shadow; some of them may lie inside it
};

}  // namespace linkmargin
