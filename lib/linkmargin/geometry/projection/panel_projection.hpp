#pragma once

#include "linkmargin/geometry/projection/projection.hpp"

#include <cstdint>
#include <limits>
#include <span>
#include <vector>

namespace linkmargin {

/// The projections that many panels, lit from one end, cast on a grid, row by row and quick. Read-only after
/// construction; safe to share between threads, each with a Band of its own.
///
/// A cell belongs to a panel's projection exactly when blocks() holds between the end and the cell's centre.
/// The projection is the wedge behind the panel's base, cut off at the base and where the line to the plane
/// comes from over the panel's top or under its bottom, copies of the base magnified about the end. Each
/// bound is a straight line: where it cuts a row is computed in single precision, and a centre within the
/// rounding of a cut is asked by blocks().
class PanelProjection {
  struct Careful {
    std::uint32_t panel = 0;
    Span rows;
  };

 public:
  /// Keeps references to panels and grid.
  PanelProjection(std::span<const UprightPanel> panels, Point3 end, const ProjectionGrid& grid);

  /// Neighbouring rows, all on one side of the end, with the panels whose projections may meet them.
  struct Band {
    int first_row = 0;
    int last_row = 0;
    std::vector<std::uint32_t> panel;  ///< positions in the constructor's span, increasing
    std::vector<int> from;             ///< after row(): the panel's columns, from ...
    std::vector<int> to;               ///< ... up to, not including; equal for none
    struct More {
      std::uint32_t panel = 0;
      Span span;
    };
    std::vector<More> more;  ///< after row(): of panels that need care, in order of panels

   private:
    friend class PanelProjection;
    std::vector<float> left_ray, left, left_slope, right_ray, right, right_slope, certain;
    std::vector<int> first, last, doubtful;
    std::vector<Careful> careful;
  };

  /// Where bands must begin: the first row beyond the end's y, and before it the row through it, if any.
  Span level_rows() const { return level_; }

  /// @param first_row, last_row  rows [first, last), all below level_rows(), in it or above it
  void begin(Band& band, int first_row, int last_row) const;

  /// Finds the columns of every panel of the band in one row of it.
  void row(Band& band, int row) const;

 private:
  /// Lines as columns over the distance t of a row from the end: the rays through the base's ends meet at
  /// the end, and the copies of the base run parallel.
  struct Half {
    std::uint32_t panel = 0;
    Span rows;  ///< outside lies no projection
    float left_ray = 0;
    float left = 0;
    float left_slope = 0;
    float right_ray = 0;
    float right = 0;
    float right_slope = 0;
    float certain = 0;  ///< how far from a half a cut may lie, in columns, to be certain
  };
  /// By how much copies of the base are larger than itself, about the end: the projection lies between `near`
  /// and `far`. With the relative rounding of each, 0 for a bound that is exact.
  struct Magnification {
    double near = 1;
    double far = std::numeric_limits<double>::infinity();
    double near_rounding = 0;
    double far_rounding = 0;
    bool none = false;
  };

  struct Bounds {
    double left = -std::numeric_limits<double>::infinity();
    double right = std::numeric_limits<double>::infinity();
    double slope = 0;
    double rounding_m = 0;  // the greatest number that a cut is made of
    bool none = false;      // no column lies between
  };

  Magnification magnification(const UprightPanel& panel) const;
  Bounds base_bounds(Point2 a, Point2 b, const Magnification& by, double sign, double most_t) const;
  void add(std::uint32_t position);
  void add_half(std::uint32_t position, double sign);
  Span rows_of(std::uint32_t position, const Magnification& by, double sign);
  bool misses(const Half& half, float t, float u) const;
  void careful_spans(std::uint32_t panel, int row, std::vector<Span>& spans) const;
  void settle(Band& band, std::size_t k, int row) const;

  std::span<const UprightPanel> panels_;
  Point3 end_;
  const ProjectionGrid* grid_;
  double end_column_ = 0;
  double reach_m_ = 0;  // along x, from the end to the farthest column
  Span level_;
  std::vector<Half> below_;
  std::vector<Half> above_;
  std::vector<Careful> careful_;
};

}  // namespace linkmargin
