#pragma once

#include "linkmargin/site/room_wall.hpp"
#include "linkmargin/site/site.hpp"

#include <optional>
#include <string>
#include <variant>

namespace linkmargin {

/// On a wall of its room, so far from the face of the wall at its end.
struct OnWall {
  WallSpot spot;
  bool only = true;    ///< the room has no other wall on that side
  double board_m = 0;  ///< before a sheet of metal, so far off it; 0: on the wall itself
};

/// On a traced wall.
struct OnTracedWall {
  std::string wall;
};

/// Beside or over an opening, on its frame.
struct OnFrame {
  std::string opening;
};

/// On the floor, off all walls.
struct OnFloor {};

/// On the ceiling of its room, so far from the nearer of two walls that face each other, twice.
struct OnCeiling {
  SheetSide across;  ///< left or right
  double across_m = 0;
  SheetSide up;  ///< top or bottom
  double up_m = 0;
};

/// What a radio at a place hangs on, as people on site say it; std::monostate: nothing that the plan has.
using HangingSpot = std::variant<std::monostate, OnWall, OnTracedWall, OnFrame, OnCeiling, OnFloor>;
HangingSpot hanging_spot(const Site& site, const Placement& place);

}  // namespace linkmargin
