#pragma once

#include "linkmargin/base/length_unit.hpp"
#include "linkmargin/geometry/polygon.hpp"
#include "linkmargin/site/layout/side.hpp"

#include <algorithm>
#include <optional>
#include <string>
#include <string_view>
#include <variant>

/// Places in a room as people say them. Not installed.
namespace linkmargin::layout {

/// How far from the line of a wall hangs what is fixed on it; more where the wall was typed thicker.
inline constexpr double kOnWallM = 0.1;

/// Lengths that differ by less are taken as equal when a fault hangs on them.
inline constexpr double kCloseEnoughM = 0.001;

/// The distance from the drawn line of a wall to what hangs on it. @param inset_m  half the wall, where typed
inline double off_wall_m(double inset_m) {
  constexpr double proud_m = 0.02;  // of the plaster
  return std::max(kOnWallM, inset_m + proud_m);
}

struct Centre {
  friend bool operator==(const Centre&, const Centre&) = default;
};
struct Corner {
  Side across = Side::left;
  Side along = Side::bottom;
  friend bool operator==(const Corner&, const Corner&) = default;
};
/// On a wall: in its middle, or so far from its end on a side.
struct OnWall {
  Side wall = Side::left;
  std::optional<Side> from{};
  double distance_m = 0;
  friend bool operator==(const OnWall&, const OnWall&) = default;
};
/// So far from two walls.
struct FromWalls {
  Side across = Side::left;
  double across_m = 0;
  Side along = Side::bottom;
  double along_m = 0;
  friend bool operator==(const FromWalls&, const FromWalls&) = default;
};
using RoomSpot = std::variant<Centre, Corner, OnWall, FromWalls>;

/// "centre", "corner top left", "bottom wall", "bottom wall, 1.2 m from left", "0.4 m from left and 0.3 m
/// from top"; capitals, commas, "and" and "the" do not count. Nothing for any other text.
std::optional<RoomSpot> parse_room_spot(std::string_view text);

/// What parse_room_spot() takes, for a message.
std::string_view room_spot_forms();

/// The wall of a room that lies farthest to a side, from left to right or from bottom to top; nothing where
/// none faces it squarely.
std::optional<Segment2> wall_on(const Polygon2& room, Side side);

/// Where a spot lies; not snapped. The centre of a room with a notch is moved into the room.
/// @param inset  from the drawn lines to what was measured to
/// @param unit   what the sentence says lengths in
/// @return the place, or why there is none, as a sentence without its subject
std::variant<Point2, std::string> place_of(const RoomSpot& spot, const Polygon2& room, const Inset& inset,
                                           LengthUnit unit = LengthUnit::metre);

}  // namespace linkmargin::layout
