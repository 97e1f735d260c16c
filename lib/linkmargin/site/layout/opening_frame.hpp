#pragma once

#include "linkmargin/site/building.hpp"
#include "linkmargin/site/layout/side.hpp"

#include <optional>
#include <string>
#include <variant>

/// Places at the frame of an opening. Not installed.
namespace linkmargin::layout {

/// How far beyond the edge of an opening hangs what is fixed on its frame; common practice.
inline constexpr double kFrameM = 0.03;

/// How far over the head of an opening hangs what is fixed over it; common practice.
inline constexpr double kOverFrameM = 0.1;

struct FrameSpot {
  const Opening& opening;
  Segment2 wall;               ///< the piece that the opening is in
  const Polygon2& room;        ///< a room beside the wall
  bool beyond = false;         ///< it hangs on the other side of the wall from that room
  Inset inset{};               ///< of the room
  double wall_m = 0;           ///< how thick the wall is, where that is known
  std::optional<Side> side{};  ///< of the opening; absent: the lock side
  bool over = false;           ///< over the middle of the opening instead
};

/// Where a contact hangs: at the opening's edge, on the side of the wall that was asked for, before its face.
/// The lock side is taken to be the one farther from the end of the wall: doors mostly open against the near
/// corner (common practice). In the middle of a wall it is the right or top one.
/// @return the place, not snapped, or why there is none, as a sentence
std::variant<Point2, std::string> frame_place(const FrameSpot& spot);

}  // namespace linkmargin::layout
