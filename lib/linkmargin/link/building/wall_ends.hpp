#pragma once

#include "linkmargin/site/wall_plan.hpp"

#include <cstddef>
#include <optional>
#include <vector>

namespace linkmargin {

/// How far beyond a free end or the top of a low wall its edge still shades a line that passes clear of it.
/// Beyond, the edge takes under 0.1 dB from any link of a site.
inline constexpr double kShadeReachM = 3;  ///< assumption; doubled, halved: 18, 4.8 dB at most, 1.0, 0.4 rms

/// A wall's end nearer than this to another wall is joined to it, and an opening's head nearer than this to
/// the ceiling reaches it.
inline constexpr double kJointM = 0.15;  ///< assumption; doubled, halved: 11, 8.9 dB at most, 0.6, 0.5 rms

/// An end of a piece of the plan, with the way on from it.
struct WallTip {
  std::size_t piece;  ///< position in the plan
  bool at_b;
  Point2 at;
  Point2 onward;  ///< length 1

  WallTip(const std::vector<WallPiece>& plan, std::size_t of, bool end_b);
};

/// Whether a piece stops anything: it is made of something, and has a length.
bool stands(const WallPiece& piece);

/// What an end of a wall comes to, along the wall's line.
struct WallEnd {
  enum class Comes {
    to_joint,     ///< it is joined to another wall
    to_opposite,  ///< to an end that faces it, of another wall in its line
    to_face,      ///< the air beside it ends at another wall
    to_air        ///< nothing within kShadeReachM
  };
  Comes comes = Comes::to_air;
  std::size_t other = 0;    ///< position in the plan; none of air
  bool other_at_b = false;  ///< to_opposite: at which end of it
  Point2 at;                ///< where: of air, kShadeReachM on
};

/// Two ends face each other up to twice kShadeReachM apart, and as far off each other's lines as joined ends
/// may be. Neither choice hangs on the order of the plan or on which end of a piece comes first.
/// @param plan of wall_plan(); a piece of open plan stops nothing
WallEnd wall_end(const std::vector<WallPiece>& plan, std::size_t piece, bool at_b);

}  // namespace linkmargin
