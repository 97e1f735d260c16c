#pragma once

#include "linkmargin/exchange/tracing/wall_lines.hpp"
#include "linkmargin/geometry/arrangement.hpp"
#include "linkmargin/geometry/polygon.hpp"

#include <cstddef>
#include <map>
#include <utility>
#include <vector>

/// Not installed.
namespace linkmargin::exchange {

/// What lies between two rooms, by its length.
struct SharedWall {
  double wall_m = 0;             ///< where a wall is drawn
  double open_m = 0;             ///< where none is
  double known_m = 0;            ///< of wall_m: where its thickness is known
  double thickness_times_m = 0;  ///< thickness times known_m
};

/// The rooms that lines of walls go round, and what lies between them.
struct TracedFaces {
  static constexpr std::size_t kNoRoom = static_cast<std::size_t>(-1);

  std::vector<Polygon2> rooms;  ///< counter-clockwise, from the top of the sheet to the bottom
  std::map<std::pair<std::size_t, std::size_t>, SharedWall> shared;  ///< kNoRoom is the outside
  std::vector<Segment2> loose;                                       ///< walls that go round no room
  std::size_t small_faces = 0;
};

/// Cuts rooms with a hole as large as a room, so that each has one outline: the cuts are open.
TracedFaces traced_faces(std::vector<WallLine> lines);

}  // namespace linkmargin::exchange
