#include "linkmargin/link/mechanism/corners.hpp"

#include "linkmargin/geometry/near_boxes.hpp"
#include "linkmargin/link/building/wall_ends.hpp"

#include <algorithm>
#include <functional>
#include <optional>
#include <utility>

namespace linkmargin {
namespace {

/// The wall that goes on in line where another ends.
std::optional<std::uint32_t> in_line(const Building& building, Point2 end, Point2 along,
                                     const std::vector<std::uint32_t>& near) {
  constexpr double kStraightCos = 0.999;
  for (const std::uint32_t j : near) {
    const Wall& wall = building.walls()[j];
    const Point2 far = far_end(wall, along);
    const Point2 begin = far == wall.base.a ? wall.base.b : wall.base.a;
    if (distance(begin, end) < kJointM && dot(far - begin, along) > kStraightCos * length(wall.base))
      return j;
  }
  return {};
}

/// The arms of one wall at a corner, each with the walls that go on in its line: the same arm, however many
/// pieces it is drawn in.
void add_arms(const Building& building, std::uint32_t position,
              const std::vector<std::vector<std::uint32_t>>& near, Corner& corner) {
  const Wall& wall = building.walls()[position];
  for (const Point2 end : {wall.base.a, wall.base.b}) {
    const double size = distance(corner.at, end);
    if (size <= kJointM) continue;
    const Point2 along = (1 / size) * (end - corner.at);
    std::optional<std::uint32_t> piece = position;
    for (int pieces = 0; piece && pieces < 100; ++pieces) {
      const Point2 far = far_end(building.walls()[*piece], along);
      corner.arms.push_back({along, *piece, far});
      piece = in_line(building, far, along, near[*piece]);
    }
  }
}

void add_obstacle_corners(const Building& building, std::vector<Corner>& corners) {
  for (std::uint32_t b = 0; b < building.obstacles().size(); ++b) {
    const ObstaclePrism& obstacle = building.obstacles()[b];
    const std::size_t count = obstacle.outline.size();
    for (std::size_t i = 0; i < count; ++i) {
      Corner corner{.at = obstacle.outline[i],
                    .bottom_m = obstacle.bottom_m,
                    .top_m = obstacle.top_m,
                    .arms = {},
                    .obstacle = b};
      for (const Point2 end :
           {obstacle.outline[(i + 1) % count], obstacle.outline[(i + count - 1) % count]}) {
        const double size = distance(corner.at, end);
        if (size > 0) corner.arms.push_back({(1 / size) * (end - corner.at), kNone, end});
      }
      corners.push_back(std::move(corner));
    }
  }
}

/// Of each wall, the walls that come within kJointM of its box and share some height with it: those of one
/// storey after the other, so that many storeys take no longer each than one.
std::vector<std::vector<std::uint32_t>> near_walls(const Building& building) {
  const std::vector<Wall>& walls = building.walls();
  std::vector<std::uint32_t> order;
  for (std::uint32_t i = 0; i < walls.size(); ++i) {
    if (walls[i].barrier != kNone) order.push_back(i);
  }
  std::ranges::stable_sort(order, {}, [&](std::uint32_t i) { return walls[i].bottom_m; });
  std::vector<std::vector<std::uint32_t>> near(walls.size());
  for (std::size_t first = 0, next = 0; first < order.size(); first = next) {
    const double bottom_m = walls[order[first]].bottom_m;
    double top_m = bottom_m;
    for (; next < order.size() && walls[order[next]].bottom_m == bottom_m; ++next)
      top_m = std::max(top_m, walls[order[next]].top_m);
    std::vector<Box2> boxes;  // of those that begin at this height, then of those that begin beside them
    for (std::size_t k = first; k < order.size() && walls[order[k]].bottom_m < top_m; ++k)
      boxes.push_back(bounding_box(walls[order[k]].base));
    for_near_boxes(boxes, kJointM, [&](std::size_t m, std::size_t n) {
      const std::uint32_t i = order[first + m], j = order[first + n];
      if (m >= next - first || walls[j].bottom_m >= walls[i].top_m) return true;
      near[i].push_back(j);
      near[j].push_back(i);
      return true;
    });
  }
  return near;
}

/// The corner at an end of a wall; nothing where it meets no other, or where another end there has it. In the
/// middle of the ends that meet, as high as two of the walls are.
std::optional<Corner> corner_at(const Building& building, std::uint32_t i, bool at_b,
                                const std::vector<std::vector<std::uint32_t>>& near) {
  const Segment2 own = building.walls()[i].base;
  const Point2 end = at_b ? own.b : own.a;
  Corner corner{.at = {}, .bottom_m = 0, .top_m = 0, .arms = {}, .obstacle = kNone};
  std::vector<std::uint32_t> met{i};
  Point2 sum = end;
  double ends = 1;
  if (length(own) < kJointM) {  // both ends are here
    if (at_b) return {};
    sum = sum + own.b;
    ++ends;
  }
  for (const std::uint32_t j : near[i]) {
    const Segment2 base = building.walls()[j].base;
    if (distance_to_segment(end, base) >= kJointM) continue;
    met.push_back(j);
    for (const Point2 other : {base.a, base.b}) {
      if (distance(end, other) >= kJointM) continue;
      if (j < i) return {};
      sum = sum + other;
      ++ends;
    }
  }
  if (met.size() == 1) return {};
  corner.at = {sum.x / ends, sum.y / ends};  // of equal ones exactly theirs
  std::vector<double> bottoms_m, tops_m;
  for (const std::uint32_t j : met) {
    const Wall& wall = building.walls()[j];
    add_arms(building, j, near, corner);
    bottoms_m.push_back(wall.bottom_m);
    tops_m.push_back(wall.top_m);
  }
  std::ranges::sort(bottoms_m);
  std::ranges::sort(tops_m, std::greater());
  corner.bottom_m = bottoms_m[1];
  corner.top_m = tops_m[1];
  return corner;
}

/// By height, and in plan along a curve that fills the sheet: the bits of x and y by turns.
void sort_by_neighbours(std::vector<Corner>& corners) {
  constexpr double kPitchM = 0.5;
  const auto spread = [](double coordinate_m) {
    const auto steps = static_cast<std::uint64_t>((coordinate_m - 2 * kCoordinateM.min) / kPitchM);
    std::uint64_t bits = 0;
    for (int bit = 0; bit < 20; ++bit) bits |= (steps >> bit & 1) << (2 * bit);
    return bits;
  };
  std::ranges::stable_sort(corners, {}, [&](const Corner& corner) {
    return std::pair(corner.bottom_m, spread(corner.at.x) | spread(corner.at.y) << 1);
  });
}

}  // namespace

Corners find_corners(const Building& building) {
  const std::vector<std::vector<std::uint32_t>> near = near_walls(building);
  Corners corners;
  for (std::uint32_t i = 0; i < near.size(); ++i) {
    for (const bool at_b : {false, true}) {
      if (auto corner = corner_at(building, i, at_b, near)) corners.all.push_back(std::move(*corner));
    }
  }
  add_obstacle_corners(building, corners.all);
  sort_by_neighbours(corners.all);
  std::vector<UprightEdge> edges;
  for (const Corner& corner : corners.all) edges.push_back({corner.at, corner.bottom_m, corner.top_m});
  corners.index = CornerIndex(edges);
  return corners;
}

}  // namespace linkmargin
