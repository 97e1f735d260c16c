#include "linkmargin/site/layout/room_edges.hpp"

#include <array>

namespace linkmargin::layout {
namespace {

/// Edges by the axis that they lie across and where they lie on it.
class EdgeIndex {
 public:
  explicit EdgeIndex(std::span<const Room> rooms) {
    std::vector<RoomEdge> found;
    for (const Room& room : rooms) add_edges(room.name, room.corners, found);
    for (RoomEdge& edge : found) edges_[edge.axis].push_back(std::move(edge));
    for (auto& of_axis : edges_) std::ranges::stable_sort(of_axis, {}, &RoomEdge::at_m);
  }

  /// What stands on the other side of a box's side: kOutside, or the room that takes most of it.
  std::string across(const Box2& box, Side side, double meet_m) const {
    const std::size_t axis = is_upright(side) ? 0 : 1;
    const Interval own = extent(box, axis);
    const double at_m = is_lower(side) ? own.low : own.high;
    double sum_m = 0;
    double most_m = 0;
    std::string room;
    const auto& edges = edges_[axis];
    for (auto edge = std::ranges::lower_bound(edges, at_m - meet_m, {}, &RoomEdge::at_m);
         edge != edges.end() && edge->at_m <= at_m + meet_m; ++edge) {
      if (edge->faces_high != is_lower(side)) continue;
      const double shared_m = std::max(0.0, overlap_m(edge->reach, extent(box, 1 - axis)));
      sum_m += shared_m;
      if (shared_m <= most_m) continue;
      most_m = shared_m;
      room = edge->room;
    }
    return sum_m > kSharedM ? room : kOutside;
  }

 private:
  std::array<std::vector<RoomEdge>, 2> edges_;
};

}  // namespace

void add_edges(const std::string& name, const Polygon2& corners, std::vector<RoomEdge>& found) {
  const bool turned = signed_area(corners) < 0;
  for (const Segment2& edge : edges(corners)) {
    const Point2 run = edge.b - edge.a;
    if ((run.x == 0) == (run.y == 0)) continue;  // aslant
    const std::size_t axis = run.x == 0 ? 0 : 1;
    const std::size_t other = 1 - axis;
    const bool outside_high = axis == 0 ? run.y > 0 : run.x < 0;
    const auto [low, high] = std::minmax({along(other, edge.a), along(other, edge.b)});
    found.push_back({axis, along(axis, edge.a), {low, high}, outside_high != turned, name});
  }
}

double MeasuredInside::wall_m(const std::string& room, const std::string& other) const {
  const auto boundary = between_m.find(std::minmax(room, other));
  if (boundary != between_m.end()) return boundary->second;
  const bool outer = other == kOutside;
  for (const std::string* one : {&room, &other}) {
    const auto found = own.find(*one);
    if (found == own.end()) continue;
    const auto& thickness_m = outer ? found->second.outer_m : found->second.inner_m;
    if (thickness_m) return *thickness_m;
  }
  return outer ? outer_m : inner_m;
}

std::vector<Inset> half_walls(std::span<const Room> rooms, const MeasuredInside& walls, double meet_m) {
  const EdgeIndex index(rooms);
  std::vector<Inset> insets(rooms.size());
  for (std::size_t i = 0; i < rooms.size(); ++i) {
    const Box2 box = bounding_box(rooms[i].corners);
    for (const auto& word : kSideWords) {
      const std::string other = index.across(box, word.meaning, meet_m);
      insets[i].of(word.meaning) = walls.wall_m(rooms[i].name, other) / 2;
    }
  }
  return insets;
}

}  // namespace linkmargin::layout
