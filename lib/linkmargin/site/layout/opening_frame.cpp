#include "linkmargin/site/layout/opening_frame.hpp"

#include "linkmargin/site/layout/length_text.hpp"
#include "linkmargin/site/layout/room_spot.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin::layout {
namespace {

/// A wall from left to right, or from bottom to top where it is steeper.
Segment2 from_its_start(Segment2 wall) {
  const Point2 run = wall.b - wall.a;
  const bool along_x = std::abs(run.x) >= std::abs(run.y);
  return (along_x ? run.x : run.y) < 0 ? Segment2{wall.b, wall.a} : wall;
}

}  // namespace

std::variant<Point2, std::string> frame_place(const FrameSpot& spot) {
  const Segment2 wall = from_its_start({as_typed(spot.wall.a), as_typed(spot.wall.b)});
  const double length_m = length(wall);
  const Point2 along = (1 / length_m) * (wall.b - wall.a);
  const bool along_x = std::abs(along.x) >= std::abs(along.y);
  if (spot.side && is_upright(*spot.side) != along_x) {
    return "'" + spot.opening.name + "' is in a wall along " + (along_x ? "x" : "y") + ": it has a " +
           (along_x ? "left and a right" : "bottom and a top") + " side";
  }
  const double middle_m = dot(as_typed(spot.opening.at) - wall.a, along);
  const bool at_start = spot.side ? is_lower(*spot.side) : middle_m > length_m / 2 + kCloseEnoughM;
  const double to_edge_m = spot.over ? 0 : spot.opening.width_m / 2 + kFrameM;
  const double edge_m = middle_m + (at_start ? -1 : 1) * to_edge_m;
  const double place_m =
      std::clamp(edge_m, std::min(kFrameM, length_m / 2), std::max(length_m - kFrameM, length_m / 2));
  const Point2 on_line = wall.a + place_m * along;
  const Point2 left{-along.y, along.x};
  const bool room_is_left = contains(spot.room, on_line + kOnWallM * left);
  const Side wall_side =
      along_x ? (room_is_left ? Side::bottom : Side::top) : (room_is_left ? Side::right : Side::left);
  const double off_m = off_wall_m(spot.beyond ? spot.wall_m / 2 : spot.inset.of(wall_side));
  return on_line + (room_is_left != spot.beyond ? off_m : -off_m) * left;
}

}  // namespace linkmargin::layout
