#include "linkmargin/site/layout/room_edges.hpp"

#include <array>

namespace linkmargin::layout {
namespace {

/// Edges by the axis that they lie across and where they lie on it.
class EdgeIndex {
 public:
  explicit EdgeIndex(std::span<const Polygon2> rooms) {
    std::vector<RoomEdge> found;
    for (std::size_t i = 0; i < rooms.size(); ++i) add_edges(std::to_string(i), rooms[i], found);
    for (RoomEdge& edge : found) edges_[edge.axis].push_back(std::move(edge));
    for (auto& of_axis : edges_) std::ranges::stable_sort(of_axis, {}, &RoomEdge::at_m);
  }

  /// How much of a side of a box lies along rooms that face it across a wall.
  double shared_m(const Box2& box, Side side, double wall_m) const {
    const std::size_t axis = is_upright(side) ? 0 : 1;
    const Interval own = extent(box, axis);
    const double at_m = is_lower(side) ? own.low : own.high;
    double sum_m = 0;
    const auto& edges = edges_[axis];
    for (auto edge = std::ranges::lower_bound(edges, at_m - wall_m, {}, &RoomEdge::at_m);
         edge != edges.end() && edge->at_m <= at_m + wall_m; ++edge) {
      if (edge->faces_high == is_lower(side))
        sum_m += std::max(0.0, overlap_m(edge->reach, extent(box, 1 - axis)));
    }
    return sum_m;
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

std::vector<Inset> half_walls(std::span<const Polygon2> rooms, const MeasuredInside& walls) {
  const EdgeIndex index(rooms);
  std::vector<Inset> insets(rooms.size());
  for (std::size_t i = 0; i < rooms.size(); ++i) {
    const Box2 box = bounding_box(rooms[i]);
    for (const auto& word : kSideWords) {
      const Side side = word.meaning;
      const bool inner = index.shared_m(box, side, walls.inner_m) > kSharedM;
      insets[i].of(side) = (inner ? walls.inner_m : walls.outer_m) / 2;
    }
  }
  return insets;
}

}  // namespace linkmargin::layout
