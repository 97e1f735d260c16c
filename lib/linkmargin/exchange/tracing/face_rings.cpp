#include "linkmargin/exchange/tracing/face_rings.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <map>
#include <utility>

namespace linkmargin::exchange {
namespace {

/// How far a way turns to the right at a corner: what follows a face on the left turns least to the left.
double left_turn_rad(Point2 before, Point2 after) {
  return std::atan2(cross(before, after), dot(before, after));
}

}  // namespace

std::vector<Polygon2> face_rings(const Arrangement& plan, std::uint32_t face) {
  std::vector<Segment2> ways;  // with the face on their left
  for (const std::uint32_t i : plan.faces()[face].edges) {
    const Arrangement::Edge& edge = plan.edges()[i];
    if (edge.left == edge.right) continue;
    ways.push_back(edge.left == face ? edge.line : Segment2{edge.line.b, edge.line.a});
  }
  std::map<Point2, std::vector<std::size_t>> leaving;
  for (std::size_t i = 0; i < ways.size(); ++i) leaving[ways[i].a].push_back(i);
  std::vector<bool> done(ways.size());
  std::vector<Polygon2> rings;
  for (std::size_t begin = 0; begin < ways.size(); ++begin) {
    if (done[begin]) continue;
    Polygon2 ring;
    std::size_t way = begin;
    while (!done[way]) {
      done[way] = true;
      ring.push_back(ways[way].a);
      // At a corner where the face touches itself, the sharpest turn to the left stays in one ring.
      std::size_t next = way;
      double sharpest = -10;
      for (const std::size_t other : leaving[ways[way].b]) {
        const double turn = left_turn_rad(ways[way].b - ways[way].a, ways[other].b - ways[other].a);
        if (done[other] || turn <= sharpest) continue;
        sharpest = turn;
        next = other;
      }
      way = next;
    }
    if (ring.size() >= 3) rings.push_back(std::move(ring));
  }
  std::ranges::stable_sort(rings, std::greater(), [](const Polygon2& ring) { return signed_area(ring); });
  return rings;
}

Polygon2 without_straight_corners(const Polygon2& polygon, double off_m) {
  Polygon2 corners;
  for (const Point2 p : polygon) {
    if (corners.empty() || distance(corners.back(), p) > off_m) corners.push_back(p);
  }
  while (corners.size() > 1 && distance(corners.front(), corners.back()) <= off_m) corners.pop_back();
  for (bool changed = true; changed && corners.size() >= 3;) {
    changed = false;
    for (std::size_t i = 0; i < corners.size() && corners.size() >= 3; ++i) {
      const std::size_t count = corners.size();
      const Segment2 chord{corners[(i + count - 1) % count], corners[(i + 1) % count]};
      if (distance_to_segment(corners[i], chord) > off_m) continue;
      corners.erase(corners.begin() + static_cast<std::ptrdiff_t>(i));
      changed = true;
    }
  }
  return corners.size() < 3 ? Polygon2{} : corners;
}

}  // namespace linkmargin::exchange
