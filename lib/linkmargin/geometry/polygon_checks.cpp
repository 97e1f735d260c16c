#include "linkmargin/geometry/overlap.hpp"
#include "linkmargin/geometry/polygon.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

bool in_box(Segment2 s, Point2 p) {
  return std::min(s.a.x, s.b.x) <= p.x && p.x <= std::max(s.a.x, s.b.x) && std::min(s.a.y, s.b.y) <= p.y &&
         p.y <= std::max(s.a.y, s.b.y);
}

/// A point that two segments share, ends included.
std::optional<Point2> shared_point(Segment2 left, Segment2 right) {
  const double left_a = side(right.a, right.b, left.a);
  const double left_b = side(right.a, right.b, left.b);
  const double right_a = side(left.a, left.b, right.a);
  const double right_b = side(left.a, left.b, right.b);
  if (left_a == 0 && in_box(right, left.a)) return left.a;
  if (left_b == 0 && in_box(right, left.b)) return left.b;
  if (right_a == 0 && in_box(left, right.a)) return right.a;
  if (right_b == 0 && in_box(left, right.b)) return right.b;
  const bool apart = (left_a > 0) == (left_b > 0) || (right_a > 0) == (right_b > 0);
  if (apart || left_a == 0 || left_b == 0 || right_a == 0 || right_b == 0) return {};
  return at_fraction(left, left_a / (left_a - left_b));
}

/// Whether the edge after a corner runs back over the edge before it.
bool turns_back(Segment2 before, Segment2 after) {
  return side(before.a, before.b, after.b) == 0 && dot(before.b - before.a, after.b - after.a) < 0;
}

struct Edge {
  Segment2 line;
  std::size_t position = 0;
};

std::vector<Edge> edges_of_length(const Polygon2& polygon) {
  std::vector<Edge> result;
  for (const Segment2 line : edges(polygon)) {
    if (line.a != line.b) result.push_back({line, result.size()});
  }
  return result;
}

std::optional<Point2> meeting(const Edge& left, const Edge& right, std::size_t count) {
  const Edge& first = left.position < right.position ? left : right;
  const Edge& second = left.position < right.position ? right : left;
  const bool follows = first.position + 1 == second.position;
  const bool closes = first.position == 0 && second.position + 1 == count;
  if (follows && turns_back(first.line, second.line)) return second.line.a;
  if (closes && turns_back(second.line, first.line)) return first.line.a;
  if (follows || closes) return {};
  return shared_point(first.line, second.line);
}

}  // namespace

std::optional<Point2> self_crossing(const Polygon2& polygon) {
  std::vector<Edge> sweep = edges_of_length(polygon);
  const std::size_t count = sweep.size();
  std::ranges::stable_sort(sweep, {}, [](const Edge& edge) { return ordered(edge.line).a.x; });
  for (std::size_t i = 0; i < count; ++i) {
    const double reach = ordered(sweep[i].line).b.x;
    for (std::size_t j = i + 1; j < count && ordered(sweep[j].line).a.x <= reach; ++j) {
      if (const auto place = meeting(sweep[i], sweep[j], count)) return place;
    }
  }
  return {};
}

double shared_area(const Polygon2& left, const Polygon2& right) {
  const Outline one = Outline::of(left), other = Outline::of(right);
  if (!one.box.meets(other.box)) return 0;
  double sum_m2 = 0;
  for_overlaps(one, {&other, 1}, [&](const std::vector<bool>& inside, double area_m2) {
    if (inside[0]) sum_m2 += area_m2;
  });
  return sum_m2;
}

}  // namespace linkmargin
