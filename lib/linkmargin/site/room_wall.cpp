#include "linkmargin/site/room_wall.hpp"

#include "linkmargin/site/sheet_side.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace linkmargin {
namespace {

/// The most that an edge may turn and still go on in one line, as the sine of the angle.
constexpr double kStraightSine = 1e-3;

constexpr std::array kSides{SheetSide::left, SheetSide::right, SheetSide::top, SheetSide::bottom};

Point2 direction(const Segment2& line) {
  return (1 / length(line)) * (line.b - line.a);
}

bool goes_on(const Segment2& before, const Segment2& after) {
  const Point2 one = direction(before), other = direction(after);
  return dot(one, other) > 0 && std::abs(cross(one, other)) < kStraightSine;
}

/// The walls in the order of the corners, the inside on their left.
std::vector<Segment2> straight_walls(const Room& room) {
  std::vector<Segment2> walls;
  Polygon2 corners = room.corners;
  if (signed_area(corners) < 0) std::ranges::reverse(corners);
  for (const Segment2& edge : edges(corners)) {
    if (edge.a == edge.b) continue;
    if (!walls.empty() && goes_on(walls.back(), edge)) {
      walls.back().b = edge.b;
    } else {
      walls.push_back(edge);
    }
  }
  if (walls.size() > 1 && goes_on(walls.back(), walls.front())) {
    walls.front().a = walls.back().a;
    walls.pop_back();
  }
  return walls;
}

SheetSide side_of(const Segment2& wall) {
  const Point2 outward{wall.b.y - wall.a.y, wall.a.x - wall.b.x};
  if (std::abs(outward.x) >= std::abs(outward.y)) return outward.x < 0 ? SheetSide::left : SheetSide::right;
  return outward.y < 0 ? SheetSide::bottom : SheetSide::top;
}

/// How far a point lies towards a side of the sheet.
double towards(SheetSide side, Point2 p) {
  switch (side) {
    case SheetSide::left:
      return -p.x;
    case SheetSide::right:
      return p.x;
    case SheetSide::top:
      return p.y;
    case SheetSide::bottom:
      return -p.y;
  }
  return 0;
}

std::optional<Point2> at_spot(const Room& room, const WallSpot& spot) {
  const std::vector<Segment2> walls = room_walls(room, spot.wall);
  if (walls.size() != 1 || is_upright(spot.wall) == is_upright(spot.from)) return {};
  Segment2 wall = walls.front();
  if (towards(spot.from, wall.b) > towards(spot.from, wall.a)) std::swap(wall.a, wall.b);
  const double wall_m = length(wall);
  if (spot.distance_m > wall_m) return {};
  return snapped(at_fraction(wall, spot.distance_m / wall_m));
}

}  // namespace

std::vector<Segment2> room_walls(const Room& room, SheetSide side) {
  std::vector<Segment2> walls = straight_walls(room);
  std::erase_if(walls, [&](const Segment2& wall) { return side_of(wall) != side; });
  return walls;
}

std::optional<Point2> socket_at(const Room& room, const Socket& socket) {
  if (const auto* at = std::get_if<Point2>(&socket)) return *at;
  return at_spot(room, std::get<WallSpot>(socket));
}

std::optional<NearestWallSpot> nearest_wall_spot(const Room& room, Point2 at) {
  const std::vector<Segment2> walls = straight_walls(room);
  const auto nearest = std::ranges::min_element(
      walls, {}, [&](const Segment2& wall) { return distance_to_segment(at, wall); });
  if (nearest == walls.end()) return {};
  NearestWallSpot found{.off_m = distance_to_segment(at, *nearest)};
  found.spot.wall = side_of(*nearest);
  const double from_a_m = nearest_fraction(at, *nearest) * length(*nearest);
  const double from_b_m = length(*nearest) - from_a_m;
  const Point2 end = from_a_m <= from_b_m ? nearest->a : nearest->b;
  const Point2 other = from_a_m <= from_b_m ? nearest->b : nearest->a;
  found.spot.distance_m = std::min(from_a_m, from_b_m);
  found.corner = end;
  for (const SheetSide side : kSides) {
    const bool ends_there = towards(side, end) > towards(side, other);
    if (is_upright(side) != is_upright(found.spot.wall) && ends_there) found.spot.from = side;
  }
  found.only = std::ranges::count(walls, found.spot.wall, side_of) == 1;
  return found;
}

double along_walls_m(const Room& room, Point2 from, Point2 to) {
  const auto position_m = [&](Point2 p) {
    double walked_m = 0, found_m = 0, nearest_m = distance_to_edges(room.corners, p) + kGridPitchM;
    for (const Segment2& edge : edges(room.corners)) {
      if (distance_to_segment(p, edge) <= nearest_m) {
        found_m = walked_m + nearest_fraction(p, edge) * length(edge);
        nearest_m = -1;  // the first of those that are as near
      }
      walked_m += length(edge);
    }
    return std::pair(found_m, walked_m);
  };
  const auto [first_m, round_m] = position_m(from);
  const double way_m = std::abs(first_m - position_m(to).first);
  return std::min(way_m, round_m - way_m);
}

}  // namespace linkmargin
