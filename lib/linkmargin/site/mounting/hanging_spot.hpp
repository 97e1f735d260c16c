#pragma once

#include "linkmargin/site/room_wall.hpp"
#include "linkmargin/site/site.hpp"
#include "linkmargin/site/wall_plan.hpp"

#include <optional>
#include <string>
#include <variant>
#include <vector>

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

/// The same for many places of one site: its walls and openings are found once. Keeps a reference to the
/// site; safe to share between threads.
class HangingSpots {
 public:
  explicit HangingSpots(const Site& site);
  HangingSpot at(const Placement& place) const;

 private:
  friend HangingSpot hanging_spot(const Site& site, const Placement& place);
  struct Frame {
    Segment2 line;
    double half_m = 0;  ///< of its wall
    const Opening* opening = nullptr;
  };
  /// Of one storey.
  struct Walls {
    Walls(const Site& site, const Storey& storey);
    HangingSpot at(const Site& site, const Placement& place) const;
    std::optional<OnFrame> frame_at(const Placement& place) const;

    const Storey* storey;
    std::vector<WallPiece> plan;
    std::vector<Frame> frames;
  };
  const Site& site_;
  std::vector<Walls> storeys_;
};

}  // namespace linkmargin
