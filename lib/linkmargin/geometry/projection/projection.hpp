#pragma once

#include "linkmargin/geometry/projection/projection_grid.hpp"

namespace linkmargin {

/// The projection that a level plate, lit from one end, casts on a grid. A cell belongs to it exactly when
/// blocks() holds between the end and the cell's centre, for a centre on the very edge of the projection too:
/// cells within rounding of an edge are asked one by one, and one cell of every run between two edges.
/// Keeps references to plate and grid.
class PlateProjection {
 public:
  PlateProjection(const LevelPlate& plate, Point3 end, const ProjectionGrid& grid);

  /// Appends the row's spans, from left to right, none empty.
  void spans(int row, std::vector<Span>& spans) const;

  Span rows() const { return rows_; }  ///< outside them lies no projection

 private:
  const LevelPlate* plate_;
  Point3 end_;
  const ProjectionGrid* grid_;
  Span rows_;
  double fraction_ = 0;  // of the way from the end, at which the line meets the plate
};

/// The same of a prism.
class PrismProjection {
 public:
  PrismProjection(const UprightPrism& prism, Point3 end, const ProjectionGrid& grid);
  void spans(int row, std::vector<Span>& spans) const;
  Span rows() const { return rows_; }

 private:
  void add_edges_at_end();
  void add_edges(double near, double far, std::span<const double> faces);

  const UprightPrism* prism_;
  Point3 end_;
  const ProjectionGrid* grid_;
  Span rows_;
  double rounding_ = 0;  // relative, of magnifications
  struct Edge {
    Segment2 line;
    double slack_m = 0;
  };
  std::vector<Edge> edges_;  // of the projection; some of them may lie inside it
};

}  // namespace linkmargin
