#pragma once

#include "linkmargin/geometry/segment.hpp"

#include <optional>
#include <span>
#include <vector>

/// Not installed.
namespace linkmargin::exchange {

/// The middle of a straight wall.
struct WallLine {
  Segment2 line;
  double thickness_m = 0;  ///< 0: not known
  bool open = false;       ///< no wall: an edge of a room drawn alone
};

struct WallLines {
  std::vector<WallLine> lines;
  bool paired = false;    ///< the walls were drawn as double lines
  bool too_many = false;  ///< more lines lie side by side than can be told apart
};

/// Walls are no thicker, faces of one no nearer.
inline constexpr double kMostWallM = 0.6;
inline constexpr double kLeastWallM = 0.04;

/// Makes middle lines of walls: parallel lines at most kMostWallM apart are the two faces of one, where
/// enough of the lines are in such pairs; the caps at the ends of walls go, pieces parted by a wall that
/// joins them there are one. Lines whose thickness is drawn stay as they are.
WallLines middle_lines(std::span<const WallLine> drawn);

}  // namespace linkmargin::exchange
