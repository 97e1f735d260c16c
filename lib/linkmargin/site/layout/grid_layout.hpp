#pragma once

#include "linkmargin/site/layout/room_layout.hpp"

/// Places of rooms that were typed as a grid. Not installed.
namespace linkmargin::layout {

/// A part of a row: of a room, or of the outside.
struct GridCell {
  std::string room;
  double width_m = 0;
};

/// Cells from left to right.
struct GridRow {
  double depth_m = 0;
  std::vector<GridCell> cells;
};

/// A room of a grid, and where it is named first.
struct GridRoom {
  std::string name;
  Polygon2 corners;  ///< snapped; empty where its cells make no one outline
  std::size_t row = 0;
};

struct GridLayout {
  std::vector<GridRoom> rooms;  ///< in the order of their first cells
  std::vector<ClosedSize> closed;
};

/// The rooms of rows from front to back, the lower left corner of the first at the origin; the cells of one
/// room are taken together. The ends of a cell come to those of an earlier row that are no more than kCloseM
/// away. @param inside  absent: sizes count to the middle of the walls
GridLayout lay_out_grid(std::span<const GridRow> rows, const std::optional<MeasuredInside>& inside);

}  // namespace linkmargin::layout
