#pragma once

#include "linkmargin/geometry/polygon.hpp"
#include "linkmargin/site/material.hpp"

#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace linkmargin {

/// Names all that is no room.
inline constexpr const char* kOutside = "outside";

/// A side as the sheet lies: greater x is right, greater y is top.
enum class SheetSide { left, right, top, bottom };

/// A place on a wall of a room, as people say it: "left wall, 0.4 m from bottom".
struct WallSpot {
  SheetSide wall = SheetSide::left;    ///< the wall on that side of the room
  SheetSide from = SheetSide::bottom;  ///< the end of that wall which the distance is measured from
  double distance_m = 0;
  friend bool operator==(const WallSpot&, const WallSpot&) = default;
};

/// A mains socket: on a wall, or at a place of the plan.
using Socket = std::variant<WallSpot, Point2>;

/// What a room is for, as far as that says where radios may hang; unstated: as its name says, see is_wet().
enum class RoomUse { unstated, wet, ordinary };

/// A room of a storey; its edges become walls.
struct Room {
  std::string name;
  Polygon2 corners;
  bool keep_out = false;  ///< no hub and no repeater goes there
  /// The slab over it, where no room of a storey above lies; absent: the storey's.
  std::optional<Construction> roof{};
  RoomUse use = RoomUse::unstated;               ///< into a wet room nothing is moved from elsewhere
  std::optional<std::vector<Socket>> sockets{};  ///< absent: not known
  std::optional<Construction> floor{};           ///< the slab under it; absent: the storey's
  std::optional<Point2> clear_m{};  ///< width and depth between its walls, where its storey was measured so
  friend bool operator==(const Room&, const Room&) = default;
};

/// Where the wall between two rooms differs from the storey's usual one.
struct Boundary {
  std::string first;
  std::string second;  ///< a room, or kOutside
  Construction construction;
  std::string
      own_key{};  ///< below the storey, of the room whose own key says it: "/rooms/barn/walls"; else empty

  /// Whether "shop and hall" or "hall and shop" is this boundary, which has no name of its own.
  bool goes_by(const std::string& both) const {
    return both == first + " and " + second || both == second + " and " + first;
  }
  /// Where it was said makes no difference.
  friend bool operator==(const Boundary& left, const Boundary& right) {
    return left.first == right.first && left.second == right.second &&
           left.construction == right.construction;
  }
};

/// A wall that belongs to no room.
struct TracedWall {
  std::string name;
  Segment2 line;
  Construction construction;
  std::optional<double> height_m;  ///< absent: to the ceiling
  friend bool operator==(const TracedWall&, const TracedWall&) = default;
};

/// A leaf in a wall: door, shutter, glazing. Closed, the wall there becomes the leaf; open, nothing.
struct Opening {
  std::string name;
  std::string first;  ///< the two rooms of its wall; both empty when it is in a traced wall
  std::string second;
  std::string wall;  ///< the traced wall it is in; empty when it is between rooms
  Point2 at;         ///< its middle, on the wall's line
  double width_m = 0;
  double sill_m = 0;
  double height_m = 0;
  Construction leaf;  ///< kNoMaterial: an opening without a leaf
  bool opens = true;  ///< false: fixed glazing, which stays when doors are open
  friend bool operator==(const Opening&, const Opening&) = default;
};

/// A body that stands in the way: a cabinet, a kiln, a car.
struct Obstacle {
  std::string name;
  Polygon2 corners;
  double base_m = 0;
  double height_m = 0;
  Construction construction;
  friend bool operator==(const Obstacle&, const Obstacle&) = default;
};

/// A hole in the slab under a storey: stairwell, shaft, atrium.
struct FloorOpening {
  std::string name;
  Polygon2 corners;
  friend bool operator==(const FloorOpening&, const FloorOpening&) = default;
};

/// A size of a room that was typed and then changed a little, so that the plan closes.
struct ClosedSize {
  std::string room;
  std::string other;     ///< the room whose edge it was brought to
  bool is_width = true;  ///< else its depth
  double typed_m = 0;
  double used_m = 0;
  friend bool operator==(const ClosedSize&, const ClosedSize&) = default;
};

/// One floor of the site with all that stands on it.
struct Storey {
  std::string name;
  double level_m = 0;                 ///< of its floor, above the site's zero
  double height_m = 0;                ///< clear height
  std::optional<Construction> floor;  ///< the slab under it
  std::optional<Construction> roof;   ///< the slab over its rooms, where no room of a storey above lies
  Construction outer_wall;
  Construction inner_wall;
  std::vector<Room> rooms;
  std::vector<Boundary> boundaries;
  std::vector<TracedWall> walls;
  std::vector<Opening> openings;
  std::vector<Obstacle> obstacles;
  std::vector<FloorOpening> floor_openings;  ///< in `floor`
  std::vector<ClosedSize> closed_sizes{};    ///< of rooms that were typed by size and neighbour

  double ceiling_m() const { return level_m + height_m; }
  const std::optional<Construction>& floor_of(const Room& room) const {
    return room.floor ? room.floor : floor;
  }
  const std::optional<Construction>& roof_of(const Room& room) const { return room.roof ? room.roof : roof; }
  friend bool operator==(const Storey&, const Storey&) = default;
};

/// Between two storeys that stand on each other lies no more than this; farther up stands no next storey.
inline constexpr double kSlabBetweenM = 1;

/// Whether a storey begins where the other ends, its slab between them; a height given from floor to floor
/// may reach into that slab.
inline bool stands_on(const Storey& upper, const Storey& lower) {
  constexpr double slack_m = 0.001;
  const double gap_m = upper.level_m - lower.ceiling_m();
  const double slab_m = upper.floor ? upper.floor->thickness_m.value_or(0) : 0;
  return upper.level_m > lower.level_m && gap_m >= -slab_m - slack_m && gap_m <= kSlabBetweenM;
}

}  // namespace linkmargin
