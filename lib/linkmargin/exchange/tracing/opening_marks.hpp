#pragma once

#include "linkmargin/exchange/drawing.hpp"
#include "linkmargin/exchange/layer_roles.hpp"
#include "linkmargin/exchange/tracing/wall_joints.hpp"

#include <optional>
#include <vector>

/// Not installed.
namespace linkmargin::exchange {

enum class OpeningSort {
  door,
  window,
  gap,  ///< no door is drawn in it
};

/// An opening where it was found, on the line of a wall.
struct FoundOpening {
  Point2 middle;
  Point2 along;  ///< of length 1
  double width_m = 0;
  OpeningSort sort = OpeningSort::gap;
};

struct FoundOpenings {
  std::vector<FoundOpening> openings;
  std::vector<WallLine> bridges;  ///< what closes the walls at them
  bool too_many = false;          ///< over kMostMarks
};

/// Swings, leaves and panes that are looked at.
inline constexpr std::size_t kMostMarks = 10'000;

/// Finds the openings in walls: gaps as wide as a door, gaps in which a door or window is drawn, and doors
/// and windows that are drawn on a wall that goes on. Swings and panes on no wall are counted as dropped.
/// @param roles  of the drawing's layers
FoundOpenings find_openings(const std::vector<WallLine>& walls, const std::vector<WallGap>& gaps,
                            const std::vector<std::optional<LayerRole>>& roles, Drawing& drawing);

}  // namespace linkmargin::exchange
