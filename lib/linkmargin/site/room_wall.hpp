#pragma once

#include "linkmargin/geometry/segment.hpp"
#include "linkmargin/site/building.hpp"

#include <optional>
#include <vector>

namespace linkmargin {

/// The straight walls of a room on one of its sides, edges that go on in one line taken as one. A wall
/// belongs to the side that its outer face looks to most; a rectangle has one a side.
std::vector<Segment2> room_walls(const Room& room, SheetSide side);

/// Where a socket is, on the line of its wall. Nothing where the room has no such wall, several of them, or a
/// shorter one.
std::optional<Point2> socket_at(const Room& room, const Socket& socket);

/// The wall of a room that a place is nearest to, and how far along it lies from the nearer end.
struct NearestWallSpot {
  WallSpot spot{};
  Point2 corner{};   ///< that end
  double off_m = 0;  ///< from the line of the wall
  bool only = true;  ///< no other wall of the room is on that side
};
/// That of a point of the plan. @return nothing for a room without corners
std::optional<NearestWallSpot> nearest_wall_spot(const Room& room, Point2 at);

/// How far it is between two places near the outline of a room, along its walls, the shorter way round.
double along_walls_m(const Room& room, Point2 from, Point2 to);

}  // namespace linkmargin
