#pragma once

#include "linkmargin/geometry/polygon.hpp"
#include "linkmargin/geometry/segment.hpp"

#include <cstdint>
#include <span>
#include <vector>

namespace linkmargin {

/// Finds the walls that a ray crosses in plan. Built once, then read-only and safe to share between threads.
///
/// A uniform grid over the walls' bounding box, with one to three cells a wall; a query walks the cells that
/// the ray touches. Candidates are a superset, then the exact predicate crosses() decides. A ray outside the
/// box costs nothing. Space: the sum over the walls of the cells that each touches.
class WallIndex {
 public:
  WallIndex() = default;

  /// @throws DomainError when an end of a wall lies outside kCoordinateM or is not a number
  explicit WallIndex(std::span<const Segment2> walls);

  /// Positions in the constructor's span of the walls that the ray crosses, sorted and unique: equal to
  /// scan_crossings() of the same walls, for any ray between snapped walls and ends; unchanged by swapping
  /// its ends. Ends that are not snapped give the same too, unless the ray runs within rounding (1e-9 m)
  /// along a wall, where crosses() itself is not exact. A ray that leaves kCoordinateM is answered by the
  /// scan.
  std::vector<std::uint32_t> crossings(Segment2 ray) const;

  /// The walls that crossings() tests, sorted and unique: a superset of its answer.
  std::vector<std::uint32_t> candidates(Segment2 ray) const;

 private:
  template <typename Visit>
  void walk(Segment2 ordered_line, Visit&& visit) const;
  int column_of(double x) const;
  int row_of(double y) const;

  std::vector<Segment2> walls_;
  Box2 box_;
  int columns_ = 0;
  int rows_ = 0;
  double cell_m_ = 1;
  double per_m_ = 1;                  // cells a metre
  std::vector<std::uint32_t> first_;  // for each cell, where its walls begin in members_; one more at the end
  std::vector<std::uint32_t> members_;  // column by column, so that the rows of one column follow each other
  std::vector<Segment2> lines_;         // the walls of members_ in the same order, each with its ends ordered
};

/// The plain loop over all walls: the oracle of WallIndex.
std::vector<std::uint32_t> scan_crossings(std::span<const Segment2> walls, Segment2 ray);

}  // namespace linkmargin
