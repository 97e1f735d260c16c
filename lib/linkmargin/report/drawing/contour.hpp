#pragma once

#include "linkmargin/geometry/point.hpp"

#include <functional>
#include <string>
#include <vector>

// Inside report/ only: where a field on a grid crosses zero.
namespace linkmargin {

/// A field known at the points of a grid: point (column, row) lies at (column, row).
struct Field {
  int columns = 0;
  int rows = 0;
  std::function<double(int column, int row)> at;  ///< NaN counts as below zero
};

/// A line along which the field is zero, linear between neighbouring points, with what is below zero on its
/// left. A closed one does not repeat its first point.
struct ContourLine {
  std::vector<Point2> points;
  bool closed = false;
};

/// The lines between points below zero and points not below, by marching squares; where both diagonals of a
/// square differ, the mean of its corners decides. Lines that leave the grid end at its edge. In a fixed
/// order.
std::vector<ContourLine> zero_lines(const Field& field);

/// The outlines of all that is below zero, closed along the edge of the grid: filled by the even-odd rule
/// they cover it.
std::vector<std::vector<Point2>> zones_below_zero(const Field& field);

/// The line as the attribute "d" of a path takes it, to a tenth of a pixel: where it turns by less than
/// kSharpDeg it is rounded within `reach` of the corner, sharper corners stay.
std::string smooth_path(const ContourLine& line, double reach);
inline constexpr double kSharpDeg = 75;

/// The line with fewer points, none of those left out farther from it than `tolerance`. The ends of an open
/// line stay, and two points of a closed one. Source: the farthest point splits (Douglas and Peucker, 1973;
/// from memory).
ContourLine simplified(const ContourLine& line, double tolerance);

}  // namespace linkmargin
