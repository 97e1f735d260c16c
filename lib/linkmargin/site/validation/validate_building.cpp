#include "linkmargin/base/number_text.hpp"
#include "linkmargin/geometry/near_boxes.hpp"
#include "linkmargin/site/room_wall.hpp"
#include "linkmargin/site/sheet_side.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <set>

namespace linkmargin::checks {
namespace {

/// What rooms may share where their common edge was typed a weld's width apart: that width along the longer
/// way through the place where their boxes meet.
double explained_area(const Box2& left, const Box2& right) {
  const double width_m = std::min(left.max.x, right.max.x) - std::max(left.min.x, right.min.x);
  const double depth_m = std::min(left.max.y, right.max.y) - std::max(left.min.y, right.min.y);
  return (kWeldM + kGridPitchM) * (std::max(0.0, width_m) + std::max(0.0, depth_m));
}

double overlap_area(const Polygon2& left, const Polygon2& right) {
  const double area = shared_area(left, right);
  return area > explained_area(bounding_box(left), bounding_box(right)) ? area : 0;
}

bool is_rectangle(const Polygon2& corners) {
  const Box2 box = bounding_box(corners);
  const Point2 size = box.max - box.min;
  return corners.size() == 4 &&
         std::abs(std::abs(signed_area(corners)) - size.x * size.y) <= kSlackM * kSlackM;
}

/// By how much two rectangles, neither within the other, reach into each other along x and along y.
std::optional<Point2> common_size(const Room& left, const Room& right) {
  if (!is_rectangle(left.corners) || !is_rectangle(right.corners)) return {};
  const Box2 a = bounding_box(left.corners);
  const Box2 b = bounding_box(right.corners);
  const Point2 common{std::min(a.max.x, b.max.x) - std::max(a.min.x, b.min.x),
                      std::min(a.max.y, b.max.y) - std::max(a.min.y, b.min.y)};
  const bool one_inside = common == a.max - a.min || common == b.max - b.min;
  return one_inside ? std::nullopt : std::optional(common);
}

/// "0.30 m, over 5.40 m of their common side", as a person would measure it; else the area.
std::string overlap_text(const Room& left, const Room& right, double area, LengthUnit unit) {
  const auto common = common_size(left, right);
  if (!common) return fixed_text(area, 2) + " m2";
  return length_text(std::min(common->x, common->y), unit) + ", over " +
         length_text(std::max(common->x, common->y), unit) + " of their common side";
}

std::string overlap_hint(const Room& left, const Room& right, LengthUnit unit) {
  const auto common = common_size(left, right);
  if (!common) return {};
  const bool across = common->x <= common->y;
  return "one of them is " + length_text(std::min(common->x, common->y), unit) +
         (across ? " too wide, or that much too far to the side"
                 : " too deep, or that much too far up or down");
}

/// How far off the outline of its room a socket at a place may lie: the wall's own thickness, and a skirting.
constexpr double kSocketReachM = 0.5;

std::string socket_fault(const Room& room, const Socket& socket, LengthUnit unit) {
  if (const auto* at = std::get_if<Point2>(&socket)) {
    if (distance_to_edges(room.corners, *at) <= kSocketReachM) return {};
    return "the socket at " + place_text(*at) + " is at no wall of room " + quoted(room.name);
  }
  const auto& spot = std::get<WallSpot>(socket);
  const std::string side(side_word(spot.wall));
  const std::vector<Segment2> walls = room_walls(room, spot.wall);
  if (walls.empty()) return "room " + quoted(room.name) + " has no " + side + " wall";
  if (walls.size() > 1)
    return "room " + quoted(room.name) + " has " + std::to_string(walls.size()) + " walls on its " + side +
           ": say where the socket is with at_m: [x, y]";
  if (spot.distance_m <= length(walls.front())) return {};
  return "the " + side + " wall of room " + quoted(room.name) + " is " +
         length_text(length(walls.front()), unit) + " long, and the socket lies " +
         length_text(spot.distance_m, unit) + " along it";
}

void check_sockets(const Storey& storey, const Room& room, LengthUnit unit, Diagnostics& faults) {
  for (std::size_t i = 0; room.sockets && i < room.sockets->size(); ++i) {
    const std::string fault = socket_fault(room, (*room.sockets)[i], unit);
    if (fault.empty()) continue;
    add(faults, DiagnosticCode::misplaced,
        pointer({"storeys", storey.name, "rooms", room.name, "sockets", std::to_string(i)}), fault)
        .names = {room.name};
  }
}

void check_rooms(const Storey& storey, LengthUnit unit, Diagnostics& faults) {
  std::vector<const Room*> sound;
  std::vector<Box2> boxes;
  for (const Room& room : storey.rooms) {
    const std::string path = pointer({"storeys", storey.name, "rooms", room.name, "corners_m"});
    if (!check_polygon(room.corners, path, "room " + quoted(room.name), faults)) continue;
    check_sockets(storey, room, unit, faults);
    sound.push_back(&room);
    boxes.push_back(bounding_box(room.corners));
  }
  std::size_t found = 0;
  for_near_boxes(boxes, 0, [&](std::size_t i, std::size_t j) {
    const double area = overlap_area(sound[i]->corners, sound[j]->corners);
    if (area > 0) {
      add(faults, DiagnosticCode::overlaps, pointer({"storeys", storey.name, "rooms", sound[j]->name}),
          "rooms " + quoted(sound[i]->name) + " and " + quoted(sound[j]->name) + " overlap by " +
              overlap_text(*sound[i], *sound[j], area, unit),
          overlap_hint(*sound[i], *sound[j], unit))
          .names = {sound[i]->name, sound[j]->name};
    }
    return area == 0 || ++found < kMostOfAKind;
  });
}

double gap_m(const Polygon2& left, const Polygon2& right) {
  double gap = std::numeric_limits<double>::infinity();
  for (const Point2 corner : left) gap = std::min(gap, distance_to_edges(right, corner));
  for (const Point2 corner : right) gap = std::min(gap, distance_to_edges(left, corner));
  return gap;
}

std::string apart_hint(const Storey& storey, const std::vector<WallPiece>& plan, const Boundary& boundary,
                       LengthUnit unit) {
  const Room* first = find_room(storey, boundary.first);
  const Room* second = find_room(storey, boundary.second);
  if (first == nullptr || second == nullptr) return {};
  return apart_text(*first, *second, unit) + "; " + neighbours_text(*first, plan) + "; " +
         neighbours_text(*second, plan);
}

using Pair = std::pair<std::string, std::string>;

Pair sorted_pair(const std::string& first, const std::string& second) {
  return std::minmax(first, second);
}

bool known_pair(const Storey& storey, const Boundary& boundary, const std::string& path,
                Diagnostics& faults) {
  bool sound = true;
  for (const auto& [name, token] : {Pair{boundary.first, "/0"}, Pair{boundary.second, "/1"}}) {
    if (name == kOutside || find_room(storey, name) != nullptr) continue;
    add_unknown(faults, path + token, "room", name, [&] { return sides_of_walls(storey); });
    sound = false;
  }
  if (sound && boundary.first == boundary.second) {
    add(faults, DiagnosticCode::impossible, path,
        "a wall parts two rooms: " + quoted(boundary.first) + " stands there twice");
    sound = false;
  }
  return sound;
}

void check_boundaries(const Storey& storey, const std::vector<WallPiece>& plan, LengthUnit unit,
                      Diagnostics& faults) {
  std::set<Pair> walls;
  for (const WallPiece& piece : plan) walls.insert(sorted_pair(piece.first, piece.second));
  std::set<Pair> seen;
  for (std::size_t i = 0; i < storey.boundaries.size(); ++i) {
    const Boundary& boundary = storey.boundaries[i];
    const std::string path = pointer({"storeys", storey.name, "boundaries", std::to_string(i), "between"});
    if (!known_pair(storey, boundary, path, faults)) continue;
    const Pair pair = sorted_pair(boundary.first, boundary.second);
    const std::vector<std::string> rooms{boundary.first, boundary.second};
    const std::string names = quoted(boundary.first) + " and " + quoted(boundary.second);
    if (!seen.insert(pair).second) {
      add(faults, DiagnosticCode::overlaps, path, "the boundary between " + names + " is given twice").names =
          rooms;
    }
    if (!walls.contains(pair)) {
      add(faults, DiagnosticCode::misplaced, path, "no wall stands between " + names,
          apart_hint(storey, plan, boundary, unit))
          .names = rooms;
    }
  }
}

/// A storey's usual walls are needed only where no boundary says otherwise.
void check_usual_walls(const Storey& storey, const std::vector<WallPiece>& plan, Diagnostics& faults) {
  std::set<Pair> given;
  for (const Boundary& boundary : storey.boundaries)
    given.insert(sorted_pair(boundary.first, boundary.second));
  for (const bool outer : {true, false}) {
    if (!(outer ? storey.outer_wall : storey.inner_wall).material.empty()) continue;
    const auto needs = std::ranges::find_if(plan, [&](const WallPiece& piece) {
      return piece.traced.empty() && (piece.second == kOutside) == outer &&
             !given.contains(sorted_pair(piece.first, piece.second));
    });
    if (needs == plan.end()) continue;
    const std::string key = outer ? "outer_wall" : "inner_wall";
    add(faults, DiagnosticCode::missing_key, pointer({"storeys", storey.name, key}),
        "storey " + quoted(storey.name) + " needs an " + key + ": nothing says what stands between " +
            quoted(needs->first) + " and " + quoted(needs->second))
        .names = {storey.name, needs->first, needs->second};
  }
}

void check_walls_and_obstacles(const Storey& storey, Diagnostics& faults) {
  for (const TracedWall& wall : storey.walls) {
    if (wall.line.a != wall.line.b) continue;
    add(faults, DiagnosticCode::impossible, pointer({"storeys", storey.name, "walls", wall.name, "to_m"}),
        "wall " + quoted(wall.name) + " has no length")
        .names = {wall.name};
  }
  for (const Obstacle& obstacle : storey.obstacles) {
    check_polygon(obstacle.corners,
                  pointer({"storeys", storey.name, "obstacles", obstacle.name, "corners_m"}),
                  "obstacle " + quoted(obstacle.name), faults);
  }
}

bool boxes_overlap(const Box2& left, const Box2& right) {
  return left.min.x < right.max.x && right.min.x < left.max.x && left.min.y < right.max.y &&
         right.min.y < left.max.y;
}

/// A hole lies in the slab, which spans the rooms. Rooms that are at fault themselves say nothing of it.
void check_floor_openings(const Storey& storey, Diagnostics& faults) {
  if (storey.floor_openings.empty()) return;
  const bool rooms_sound = std::ranges::all_of(storey.rooms, [](const Room& room) {
    Diagnostics of_room;
    return check_polygon(room.corners, {}, {}, of_room);
  });
  for (const FloorOpening& opening : storey.floor_openings) {
    const std::string path = pointer({"storeys", storey.name, "floor_openings", opening.name, "corners_m"});
    const std::string what = "floor opening " + quoted(opening.name);
    if (!check_polygon(opening.corners, path, what, faults) || !rooms_sound) continue;
    const Box2 box = bounding_box(opening.corners);
    const bool in_a_room = std::ranges::any_of(storey.rooms, [&](const Room& room) {
      return boxes_overlap(bounding_box(room.corners), box) && shared_area(room.corners, opening.corners) > 0;
    });
    if (in_a_room) continue;
    add(faults, DiagnosticCode::misplaced, path,
        what + " lies outside the rooms of storey " + quoted(storey.name),
        "the slab under a storey spans its rooms")
        .names = {opening.name, storey.name};
  }
}

/// A room of the lower storey under a room of the upper one, or nothing.
const Room* room_under(const Storey& lower, const Storey& upper) {
  for (const Room& room : lower.rooms) {
    for (const Room& above : upper.rooms) {
      if (overlap_area(room.corners, above.corners) > 0) return &room;
    }
  }
  return nullptr;
}

}  // namespace

std::string apart_text(const Room& first, const Room& second, LengthUnit unit) {
  const double gap = gap_m(first.corners, second.corners);
  if (gap <= kWeldM) return "they meet at a corner only";
  return "they are " + length_text(gap, unit) + " apart";
}

void check_storey(const Storey& storey, const std::vector<WallPiece>& plan, LengthUnit unit,
                  Diagnostics& faults) {
  check_rooms(storey, unit, faults);
  check_boundaries(storey, plan, unit, faults);
  check_usual_walls(storey, plan, faults);
  check_walls_and_obstacles(storey, faults);
  check_floor_openings(storey, faults);
}

void check_storey_heights(const Site& site, Diagnostics& faults) {
  std::size_t found = 0;
  for (std::size_t i = 0; i < site.storeys.size(); ++i) {
    for (std::size_t j = i + 1; j < site.storeys.size() && found < kMostOfAKind; ++j) {
      const bool rising = site.storeys[i].level_m <= site.storeys[j].level_m;
      const Storey& lower = site.storeys[rising ? i : j];
      const Storey& upper = site.storeys[rising ? j : i];
      // A height given from floor to floor reaches into the slab of the storey above, and no further.
      const double slab_m = upper.floor ? upper.floor->thickness_m.value_or(0) : 0;
      if (upper.level_m + slab_m + kSlackM >= lower.ceiling_m()) continue;
      const Room* room = room_under(lower, upper);
      if (room == nullptr) continue;
      add(faults, DiagnosticCode::misplaced, pointer({"storeys", upper.name, "level_m"}),
          "storey " + quoted(upper.name) + " begins at " + length_text(upper.level_m, site.units.length) +
              ", under the ceiling of " + quoted(lower.name) + " at " +
              length_text(lower.ceiling_m(), site.units.length) + ", over its room " + quoted(room->name))
          .names = {upper.name, lower.name, room->name};
      ++found;
    }
  }
}

}  // namespace linkmargin::checks
