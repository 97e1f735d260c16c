#pragma once

#include "linkmargin/exchange/tracing/wall_lines.hpp"

#include <vector>

/// Not installed.
namespace linkmargin::exchange {

/// Ends of walls no farther from where two walls meet are joined there, beside half the thickness of the
/// other.
inline constexpr double kJoinM = 0.1;

/// A gap in a wall of such width is a door's.
inline constexpr double kLeastDoorM = 0.6;
inline constexpr double kMostDoorM = 1.3;

/// A gap in which a door or window is drawn is no wider.
inline constexpr double kMostGapM = 8;

/// What lies between a free end of a wall and what it points at: a wall in line, or one across.
struct WallGap {
  Segment2 line;
  double width_m = 0;  ///< between the walls, without half the thickness of one across
  double thickness_m = 0;
};

/// Brings the ends of walls to where they meet others. @return of each wall whether its ends are joined:
/// those that are not stand free
struct JoinedEnds {
  bool a = false;
  bool b = false;
};
std::vector<JoinedEnds> join_ends(std::vector<WallLine>& walls);

/// The gaps up to kMostGapM before free ends, each once.
std::vector<WallGap> gaps_before(const std::vector<WallLine>& walls, const std::vector<JoinedEnds>& joined);

}  // namespace linkmargin::exchange
