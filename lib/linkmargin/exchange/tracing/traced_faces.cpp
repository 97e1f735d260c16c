#include "linkmargin/exchange/tracing/traced_faces.hpp"

#include "linkmargin/exchange/tracing/face_rings.hpp"
#include "linkmargin/exchange/tracing/wall_tracks.hpp"
#include "linkmargin/site/limits.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

namespace linkmargin::exchange {
namespace {

constexpr double kLeastRoomM2 = 0.4;
constexpr double kLeastHalfWidthM = 0.2;

/// Smaller faces are slits where lines nearly meet.
constexpr double kLeastToldM2 = 0.05;

/// Holes of less area are pillars, not rooms.
constexpr double kLeastHoleM2 = 1;

/// Corners that lie nearer to a straight line are left out.
constexpr double kStraightM = 0.002;

/// Shorter pieces that jut out are what walls overshoot at corners.
constexpr double kLeastLooseM = 0.5;

double rounded_mm(double value_m) {
  return std::round(value_m * 1000) / 1000;
}

Polygon2 rounded(const Polygon2& polygon) {
  Polygon2 result;
  for (const Point2 p : polygon) result.push_back({rounded_mm(p.x), rounded_mm(p.y)});
  return without_straight_corners(result, kStraightM);
}

std::vector<Segment2> segments_of(const std::vector<WallLine>& lines) {
  std::vector<Segment2> segments;
  for (const WallLine& line : lines) segments.push_back(line.line);
  return segments;
}

bool is_room(const Polygon2& outline) {
  const Box2 box = bounding_box(outline);
  return outline.size() >= 3 && static_cast<double>(outline.size()) <= limits::kCorners.max &&
         limits::kRoomSideM.contains(box.max.x - box.min.x) &&
         limits::kRoomSideM.contains(box.max.y - box.min.y) && signed_area(outline) >= kLeastRoomM2 &&
         distance_to_edges(outline, label_point(outline)) >= kLeastHalfWidthM;
}

/// From a corner of a hole to the left or right to the nearest edge of the face.
std::optional<Segment2> cut(const Arrangement& plan, std::uint32_t face, Point2 from, bool to_right) {
  double nearest = std::numeric_limits<double>::infinity();
  for (const std::uint32_t i : plan.faces()[face].edges) {
    const auto [low, high] = std::minmax(plan.edges()[i].line.a, plan.edges()[i].line.b,
                                         [](Point2 left, Point2 right) { return left.y < right.y; });
    if (low.y > from.y || high.y < from.y || low.y == high.y) continue;
    const double x = low.x + (high.x - low.x) * (from.y - low.y) / (high.y - low.y);
    const double ahead = to_right ? x - from.x : from.x - x;
    if (ahead > Arrangement::kWeldedM) nearest = std::min(nearest, ahead);
  }
  if (std::isinf(nearest)) return {};
  return Segment2{from, {to_right ? from.x + nearest : from.x - nearest, from.y}};
}

/// Cuts from each large hole of the faces to what lies left and right of it.
std::vector<WallLine> cuts_of_holes(const Arrangement& plan) {
  std::vector<WallLine> cuts;
  for (std::uint32_t face = 1; face < plan.faces().size(); ++face) {
    const std::vector<Polygon2> rings = face_rings(plan, face);
    for (std::size_t i = 1; i < rings.size(); ++i) {
      if (-signed_area(rings[i]) < kLeastHoleM2) continue;
      const auto [left, right] = std::ranges::minmax_element(rings[i]);
      for (const auto& line : {cut(plan, face, *left, false), cut(plan, face, *right, true)}) {
        if (line) cuts.push_back({.line = *line, .open = true});
      }
    }
  }
  return cuts;
}

class FaceSorter {
 public:
  FaceSorter(const std::vector<WallLine>& lines, const Arrangement& plan) : lines_(lines), plan_(plan) {}

  TracedFaces sort() {
    rooms();
    for (const Arrangement::Edge& edge : plan_.edges()) wall(edge);
    loose();
    return std::move(result_);
  }

 private:
  void rooms() {
    std::vector<std::pair<Polygon2, std::uint32_t>> found;
    for (std::uint32_t face = 1; face < plan_.faces().size(); ++face) {
      std::vector<Polygon2> rings = face_rings(plan_, face);
      Polygon2 outline = rings.empty() ? Polygon2{} : rounded(rings.front());
      if (is_room(outline)) {
        found.emplace_back(std::move(outline), face);
      } else if (plan_.faces()[face].area_m2 >= kLeastToldM2) {
        ++result_.small_faces;
      }
    }
    std::ranges::stable_sort(found, {}, [](const std::pair<Polygon2, std::uint32_t>& room) {
      const Point2 middle = centroid(room.first);
      return std::pair(-std::round(middle.y), middle.x);
    });
    room_of_.assign(plan_.faces().size(), TracedFaces::kNoRoom);
    for (auto& [outline, face] : found) {
      room_of_[face] = result_.rooms.size();
      result_.rooms.push_back(std::move(outline));
    }
  }

  void wall(const Arrangement::Edge& edge) {
    const std::size_t left = room_of_[edge.left], right = room_of_[edge.right];
    if (left == right) return;
    SharedWall& shared = result_.shared[std::minmax(left, right)];
    const double long_m = length(edge.line);
    const auto sources = plan_.sources(edge);
    const bool open = std::ranges::all_of(sources, [&](std::uint32_t i) { return lines_[i].open; });
    (open ? shared.open_m : shared.wall_m) += long_m;
    double thickness_m = 0;
    for (const std::uint32_t i : sources) thickness_m = std::max(thickness_m, lines_[i].thickness_m);
    if (open || thickness_m == 0) return;
    shared.known_m += long_m;
    shared.thickness_times_m += thickness_m * long_m;
  }

  /// Pieces with one face on both sides, by the wall that they are of.
  void loose() {
    std::map<std::uint32_t, std::vector<Interval>> parts;
    for (const Arrangement::Edge& edge : plan_.edges()) {
      if (room_of_[edge.left] != room_of_[edge.right]) continue;
      const std::uint32_t wall = plan_.sources(edge).front();
      if (lines_[wall].open) continue;
      const Segment2 line = lines_[wall].line;
      const double a = nearest_fraction(edge.line.a, line), b = nearest_fraction(edge.line.b, line);
      parts[wall].push_back({std::min(a, b), std::max(a, b)});
    }
    for (const auto& [wall, intervals] : parts) {
      const Segment2 line = lines_[wall].line;
      for (const Interval& part : merged(intervals, 0.001)) {
        const Segment2 piece{at_fraction(line, part.from), at_fraction(line, part.to)};
        if (length(piece) < kLeastLooseM) continue;
        result_.loose.push_back(
            {{rounded_mm(piece.a.x), rounded_mm(piece.a.y)}, {rounded_mm(piece.b.x), rounded_mm(piece.b.y)}});
      }
    }
  }

  const std::vector<WallLine>& lines_;
  const Arrangement& plan_;
  std::vector<std::size_t> room_of_;  // of each face
  TracedFaces result_;
};

}  // namespace

TracedFaces traced_faces(std::vector<WallLine> lines) {
  Arrangement plan(segments_of(lines));
  constexpr int kMostRounds = 8;  // holes in the rooms that a hole is
  for (int round = 0; round < kMostRounds; ++round) {
    std::vector<WallLine> cuts = cuts_of_holes(plan);
    if (cuts.empty()) break;
    std::ranges::move(cuts, std::back_inserter(lines));
    plan = Arrangement(segments_of(lines));
  }
  return FaceSorter(lines, plan).sort();
}

}  // namespace linkmargin::exchange
