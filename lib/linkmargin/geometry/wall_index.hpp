#pragma once

#include "linkmargin/geometry/polygon.hpp"
#include "linkmargin/geometry/segment.hpp"
#include "linkmargin/geometry/wall_block8.hpp"

#include <cstdint>
#include <span>
#include <vector>

namespace linkmargin {

/// Finds the walls that a ray crosses in plan. Built once, then read-only and safe to share between threads.
///
/// Walls that follow each other lie close together: every eight of them has a box, every eight boxes have a
/// box, and so on while there are many. A query goes down from the largest boxes, a level at a time, through
/// sieve(), and the exact predicate crosses() decides the walls that are left. Few walls have no boxes.
/// Space: some 60 bytes a wall.
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

  /// The same into a vector that holds memory already; what it held before is lost.
  void crossings(Segment2 ray, std::vector<std::uint32_t>& found) const;

  /// The walls that the sieve leaves for crosses() to decide, sorted and unique: a superset of its answer.
  std::vector<std::uint32_t> candidates(Segment2 ray) const;

 private:
  void fill_boxes();
  template <typename Visit>
  void visit_left(Segment2 ray, Visit visit) const;
  template <typename Visit>
  void descend(std::size_t level, std::span<const std::uint32_t> blocks, const BlockProbe& ray,
               Visit& visit) const;
  void sort(std::vector<std::uint32_t>& positions) const;

  Point2 origin_;                         // of the blocks: the middle of all walls
  std::vector<std::uint32_t> positions_;  // of the walls in the constructor's span, in the index's order
  std::vector<Segment2> lines_;           // the walls in that order, each with its ends ordered
  std::vector<WallBlock8> blocks_;        // of lines_
  std::vector<std::vector<BoxBlock8>> levels_;  // boxes of blocks_, then each time of the level before
};

/// The plain loop over all walls: the oracle of WallIndex.
std::vector<std::uint32_t> scan_crossings(std::span<const Segment2> walls, Segment2 ray);

}  // namespace linkmargin
