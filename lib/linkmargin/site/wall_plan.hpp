#pragma once

#include "linkmargin/site/building.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace linkmargin {

/// One straight piece of wall of a storey, as it follows from the rooms or was traced.
struct WallPiece {
  Segment2 line;
  std::string first;                         ///< room; empty for a traced wall
  std::string second;                        ///< room or kOutside; empty for a traced wall
  std::string traced;                        ///< name of the traced wall; empty for a wall of rooms
  std::optional<Construction> construction;  ///< absent: open plan
  double height_m = 0;                       ///< from the storey's floor
};

/// Where an opening sits: on which piece, and from where to where along it.
struct OpeningPlace {
  std::size_t opening = 0;  ///< position in Storey::openings
  std::size_t piece = 0;    ///< position in the wall plan
  double from = 0;          ///< fractions of the piece's length
  double to = 0;
};

/// How far an opening's middle may lie from its wall's line, and corners of two rooms from each other's
/// edges, to count as being on it.
inline constexpr double kOpeningReachM = 0.15;
inline constexpr double kWeldM = 0.01;

/// The walls of a storey: every room edge once, split where a corner of another room lies on it, between the
/// two rooms (or a room and the outside) on its sides; then the traced walls. Pieces stand in a fixed order.
std::vector<WallPiece> wall_plan(const Storey& storey);

/// The place of an opening, or nothing when it lies on no wall of its pair or overhangs it. Of several walls
/// that fit, the nearest.
std::optional<OpeningPlace> locate_opening(const std::vector<WallPiece>& plan, const Storey& storey,
                                           std::size_t opening);

}  // namespace linkmargin
