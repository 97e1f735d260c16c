#pragma once

#include "linkmargin/geometry/wall_index.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace linkmargin {

/// A square grid of nodes over a plan. Every node lies half-way between the lines of the coordinate grid: no
/// line of nodes passes through the end of a snapped wall, where crosses() leaves open how often it meets a
/// corner. The predicate stays exact there within 2000 m of the origin.
struct NodeLayout {
  Point2 first;  ///< the node of column 0 and row 0
  double pitch_m = 0;
  int columns = 0;
  int rows = 0;

  /// Nodes over a box, half a pitch off its low sides, and at least one pitch beyond it on every side.
  /// @param pitch_m     > 0; rounded to the coordinate grid, and made wider where there would be more nodes
  /// @param most_nodes  >= 64
  static NodeLayout over(const Box2& box, double pitch_m, std::size_t most_nodes);

  std::size_t size() const { return static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows); }
  std::uint32_t node(int column, int row) const { return static_cast<std::uint32_t>(row * columns + column); }
  int column(std::uint32_t node) const { return static_cast<int>(node) % columns; }
  int row(std::uint32_t node) const { return static_cast<int>(node) / columns; }
  Point2 at(std::uint32_t node) const {
    return {first.x + column(node) * pitch_m, first.y + row(node) * pitch_m};
  }

  /// Calls visit(node) for every node in a box, row by row.
  template <typename Visit>
  void for_nodes_in(const Box2& box, Visit&& visit) const {
    const auto low = [&](double at, double start) {
      return std::max(0, static_cast<int>(std::ceil((at - start) / pitch_m)));
    };
    const auto high = [&](double at, double start, int count) {
      return std::min(count - 1, static_cast<int>(std::floor((at - start) / pitch_m)));
    };
    const int last_column = high(box.max.x, first.x, columns);
    for (int j = low(box.min.y, first.y); j <= high(box.max.y, first.y, rows); ++j) {
      for (int i = low(box.min.x, first.x); i <= last_column; ++i) visit(node(i, j));
    }
  }
};

/// Which parts of a plan walls part from each other. Two neighbouring nodes are of one region when no wall
/// passes between them (see crosses()); a part too small for any node is overlooked. Read-only after
/// construction.
class RegionGrid {
 public:
  RegionGrid() = default;

  /// @throws DomainError when an end of a wall lies outside kCoordinateM or is not a number
  RegionGrid(const NodeLayout& layout, std::span<const Segment2> walls);

  const NodeLayout& layout() const { return layout_; }

  /// Of a node, from 0. Where the layout reaches beyond all walls, region 0 is what lies outside them.
  std::uint32_t region(std::uint32_t node) const { return regions_[node]; }
  std::uint32_t region_count() const { return region_count_; }

  /// Positions of the walls between a node and its neighbour to the right, or above it, in order from the
  /// node; empty when there is none or no such neighbour.
  std::span<const std::uint32_t> walls_right(std::uint32_t node) const { return between(right_[node]); }
  std::span<const std::uint32_t> walls_above(std::uint32_t node) const { return between(above_[node]); }

  /// The nearest of the sixteen nodes round a point that no wall parts from it; nothing where there is none.
  std::optional<std::uint32_t> node_of(Point2 p) const;

 private:
  struct Between {
    std::uint32_t first = 0;
    std::uint32_t count = 0;
  };
  std::span<const std::uint32_t> between(Between range) const {
    return std::span(met_).subspan(range.first, range.count);
  }
  void meet(std::span<const Segment2> walls, std::uint32_t from, std::uint32_t step, int steps,
            std::vector<Between>& into);
  void fill();

  NodeLayout layout_;
  WallIndex index_;
  std::vector<std::uint32_t> met_;
  std::vector<Between> right_;
  std::vector<Between> above_;
  std::vector<std::uint32_t> regions_;
  std::uint32_t region_count_ = 0;
};

}  // namespace linkmargin
