#pragma once

#include "linkmargin/geometry/polygon.hpp"
#include "linkmargin/site/building.hpp"
#include "linkmargin/site/layout/side.hpp"

#include <algorithm>
#include <cstddef>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

/// Edges of rooms along the axes of the plan: 0 is x, 1 is y. Not installed.
namespace linkmargin::layout {

/// Where the walls of a room are as thick as none other of the storey.
struct OwnThickness {
  std::optional<double> outer_m{};
  std::optional<double> inner_m{};
};

/// How thick walls are, for rooms measured inside.
struct MeasuredInside {
  double outer_m = 0;
  double inner_m = 0;
  std::map<std::string, OwnThickness> own{};  ///< by the room
  std::map<std::pair<std::string, std::string>, double>
      between_m{};  ///< of boundaries; the lesser name first

  /// Of the wall between a room and another, or kOutside: as a boundary says, else one of the two rooms, else
  /// the storey.
  double wall_m(const std::string& room, const std::string& other) const;
};

/// Along x or along y.
inline double along(std::size_t axis, Point2 p) {
  return axis == 0 ? p.x : p.y;
}

struct Interval {
  double low = 0;
  double high = 0;
  double length() const { return high - low; }
};

inline Interval extent(const Box2& box, std::size_t axis) {
  return {along(axis, box.min), along(axis, box.max)};
}

/// By how much two intervals overlap; negative by how much they lie apart.
inline double overlap_m(Interval left, Interval right) {
  return std::min(left.high, right.high) - std::max(left.low, right.low);
}

/// An edge of a room along an axis of the plan.
struct RoomEdge {
  std::size_t axis = 0;     ///< that it lies across: 0 of an upright edge, which has one x
  double at_m = 0;          ///< on that axis
  Interval reach{};         ///< on the other
  bool faces_high = false;  ///< the outside lies towards greater coordinates
  std::string room;
};

/// Adds the edges of a room; those aslant are left out.
void add_edges(const std::string& name, const Polygon2& corners, std::vector<RoomEdge>& found);

/// Half the thickness of the wall on each side of each room: of an inner wall where more than kSharedM of the
/// side lies along other rooms, by the one of them that takes most of it. A wall that is partly an outer one
/// keeps the line of its inner part, for there two rooms have to meet; its outer part is then half the
/// difference of the thicknesses too far in.
/// @param meet_m  edges less apart than this share a wall
inline constexpr double kSharedM = 0.3;
std::vector<Inset> half_walls(std::span<const Room> rooms, const MeasuredInside& walls, double meet_m);

}  // namespace linkmargin::layout
