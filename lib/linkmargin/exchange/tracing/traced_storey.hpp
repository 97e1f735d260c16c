#pragma once

#include "linkmargin/exchange/drawing.hpp"
#include "linkmargin/exchange/layer_roles.hpp"
#include "linkmargin/site/building.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace linkmargin::exchange {

/// A door or window as the drawing has it.
struct TracedOpening {
  std::string name;
  std::string first;  ///< the two rooms of its wall, the second may be kOutside
  std::string second;
  Point2 at;
  double width_m = 0;
  std::string_view kind;  ///< of the table of openings: "inner door"
  bool drawn = true;      ///< false: a gap in a wall, no door is drawn in it
};

/// Between two rooms, or a room and kOutside.
struct TracedBoundary {
  std::string first;
  std::string second;
  std::optional<double> thickness_m{};  ///< absent: not known, or open
  bool open = false;                    ///< no wall is drawn there
};

/// The clear height of a storey whose drawing says none.
inline constexpr double kStoreyHeightM = 2.5;

/// What a drawing says of one storey.
struct TracedStorey {
  std::string name;
  std::optional<double> level_m{};
  std::optional<double> height_m{};
  std::vector<Room> rooms{};  ///< to the middle of their walls, in metres
  std::optional<double> outer_wall_m{};
  std::optional<double> inner_wall_m{};
  std::vector<TracedBoundary> boundaries{};  ///< that differ from the usual wall
  std::vector<Segment2> walls{};             ///< that go round no room
  std::vector<TracedOpening> openings{};
};

/// A building traced from a drawing, and what is to be known of it.
struct TracedPlan {
  std::vector<TracedStorey> storeys{};
  double unit_m = 1;
  Point2 shift_m{};                   ///< of the drawing's places, so that the plan lies near the origin
  std::size_t double_walls = 0;       ///< storeys whose walls were drawn as double lines
  std::size_t small_faces = 0;        ///< closed outlines too small or too large for a room
  std::size_t openings_left_out = 0;  ///< that fit no wall of the plan
  bool one_layer = false;             ///< all lines lie on one layer, taken as walls
  std::vector<std::pair<std::string, LayerRole>> layers{};  ///< those that are read
  std::vector<std::string> unused_patterns{};               ///< of the map of layers: they fit none
  DroppedCounts dropped{};
  std::vector<std::string> several_names{};  ///< of rooms in which more than one name stands
  std::vector<int> undecoded_lines{};
};

}  // namespace linkmargin::exchange
