#include "linkmargin/geometry/polygon.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <queue>

namespace linkmargin {

Polygon2 rectangle(Point2 corner, double width_m, double depth_m) {
  const double right = corner.x + width_m;
  const double upper = corner.y + depth_m;
  return {corner, {right, corner.y}, {right, upper}, {corner.x, upper}};
}

std::vector<Segment2> edges(const Polygon2& polygon) {
  std::vector<Segment2> result;
  result.reserve(polygon.size());
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    result.push_back({polygon[i], polygon[i + 1 < polygon.size() ? i + 1 : 0]});
  }
  return result;
}

double signed_area(const Polygon2& polygon) {
  double twice = 0;
  for (std::size_t i = 2; i < polygon.size(); ++i) twice += side(polygon[0], polygon[i - 1], polygon[i]);
  return twice / 2;
}

Box2 bounding_box(const Polygon2& polygon) {
  if (polygon.empty()) return {};
  Box2 box = Box2::nothing();
  for (const Point2 p : polygon) box.take(p);
  return box;
}

Point2 centroid(const Polygon2& polygon) {
  if (polygon.empty()) return {};
  Point2 moment;  // about the first corner, six times the area's
  Point2 sum;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    sum = sum + (polygon[i] - polygon[0]);
    if (i < 2) continue;
    const Point2 left = polygon[i - 1] - polygon[0];
    const Point2 right = polygon[i] - polygon[0];
    moment = moment + cross(left, right) * (left + right);
  }
  const double area = signed_area(polygon);
  if (area == 0) return polygon[0] + (1 / static_cast<double>(polygon.size())) * sum;
  return polygon[0] + (1 / (6 * area)) * moment;
}

bool contains(const Polygon2& polygon, Point2 p) {
  bool inside = false;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const auto [c, d] = ordered({polygon[i], polygon[i + 1 < polygon.size() ? i + 1 : 0]});
    if (c.x < p.x && p.x <= d.x && side(c, d, p) >= 0) inside = !inside;
  }
  return inside;
}

double distance_to_edges(const Polygon2& polygon, Point2 p) {
  double nearest = std::numeric_limits<double>::infinity();
  for (const Segment2 edge : edges(polygon)) nearest = std::min(nearest, distance_to_segment(p, edge));
  return nearest;
}

namespace {

/// A square that may hold a deeper point than the best so far.
struct Square {
  Point2 middle;
  double half_m = 0;
  double depth_m = 0;  // of the middle; negative outside the polygon
  double bound_m() const { return depth_m + half_m * std::sqrt(2.0); }
  friend bool operator<(const Square& left, const Square& right) { return left.bound_m() < right.bound_m(); }
};

Square square_at(const Polygon2& polygon, Point2 middle, double half_m) {
  const double edge_m = distance_to_edges(polygon, middle);
  return {middle, half_m, contains(polygon, middle) ? edge_m : -edge_m};
}

}  // namespace

/// Best first over a quadtree: a square whose bound cannot beat the best by the tolerance is dropped.
Point2 label_point(const Polygon2& polygon) {
  Square best = square_at(polygon, centroid(polygon), 0);
  if (signed_area(polygon) == 0) return best.middle;
  const Box2 box = bounding_box(polygon);
  const Point2 size = box.max - box.min;
  const double tolerance_m = std::max(size.x, size.y) / 50;
  std::priority_queue<Square> open;
  open.push(square_at(polygon, box.min + 0.5 * size, std::max(size.x, size.y) / 2));
  while (!open.empty() && open.top().bound_m() > best.depth_m + tolerance_m) {
    const Square square = open.top();
    open.pop();
    if (square.depth_m > best.depth_m + (best.depth_m > 0 ? tolerance_m : 0)) best = square;
    const double half_m = square.half_m / 2;
    if (half_m < tolerance_m / 1024) continue;  // bounds the search of slivers
    for (const Point2 step : {Point2{-1, -1}, Point2{1, -1}, Point2{-1, 1}, Point2{1, 1}}) {
      open.push(square_at(polygon, square.middle + half_m * step, half_m));
    }
  }
  return best.middle;
}

}  // namespace linkmargin
