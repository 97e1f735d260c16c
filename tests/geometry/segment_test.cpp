#include "linkmargin/geometry/segment.hpp"

#include "linkmargin/geometry/polygon.hpp"

#include <doctest/doctest.h>

#include <vector>

using namespace linkmargin;

namespace {

std::vector<Point2> grid_points(int side_count) {
  std::vector<Point2> points;
  for (int x = 0; x < side_count; ++x) {
    for (int y = 0; y < side_count; ++y) points.push_back({static_cast<double>(x), static_cast<double>(y)});
  }
  return points;
}

std::vector<Segment2> grid_segments(int side_count) {
  std::vector<Segment2> segments;
  const auto points = grid_points(side_count);
  for (const Point2 a : points) {
    for (const Point2 b : points) {
      if (a != b) segments.push_back({a, b});
    }
  }
  return segments;
}

Segment2 reversed(Segment2 s) {
  return {s.b, s.a};
}

}  // namespace

TEST_CASE("swapping the ends of ray or wall changes nothing: every pair of segments of a 5 x 5 grid") {
  const auto segments = grid_segments(5);
  int pairs = 0, crossed = 0, changed = 0;
  for (const Segment2 ray : segments) {
    for (const Segment2 wall : segments) {
      ++pairs;
      const bool met = crosses(ray, wall);
      if (met) ++crossed;
      if (crosses(reversed(ray), wall) != met || crosses(ray, reversed(wall)) != met ||
          crosses(reversed(ray), reversed(wall)) != met) {
        ++changed;
      }
      if (!met) continue;
      const double fraction = crossing_fraction(ray, wall);
      CHECK(fraction >= 0);
      CHECK(fraction <= 1);
      CHECK(fraction == crossing_fraction(reversed(ray), wall));
      CHECK(fraction == crossing_fraction(ray, reversed(wall)));
      CHECK(distance_to_segment(at_fraction(ordered(ray), fraction), wall) <= 1e-12);
    }
  }
  CHECK(pairs == 360'000);
  CHECK(crossed > 0);
  CHECK(changed == 0);
}

TEST_CASE("a ray through the corner of two walls counts once, a touch an even number of times") {
  const auto points = grid_points(5);
  int through = 0, through_once = 0, touches = 0, touches_even = 0;
  for (const Segment2 ray : grid_segments(5)) {
    for (const Point2 corner : points) {
      if (side(ray.a, ray.b, corner) != 0 || dot(ray.a - corner, ray.b - corner) >= 0) continue;
      for (const Point2 c : points) {
        for (const Point2 d : points) {
          const double c_side = side(ray.a, ray.b, c);
          const double d_side = side(ray.a, ray.b, d);
          if (c == d || c_side == 0 || d_side == 0) continue;
          const int count = int{crosses(ray, {c, corner})} + int{crosses(ray, {corner, d})};
          if ((c_side > 0) != (d_side > 0)) {
            ++through;
            if (count == 1) ++through_once;
          } else {
            ++touches;
            if (count != 1) ++touches_even;
          }
        }
      }
    }
  }
  CHECK(through == 39'680);
  CHECK(through_once == through);
  CHECK(touches == 79'744);
  CHECK(touches_even == touches);
}

TEST_CASE("a ray along the line of a wall, or of no length, crosses nothing") {
  int along = 0;
  for (const Segment2 ray : grid_segments(4)) {
    for (const Segment2 wall : grid_segments(4)) {
      if (side(wall.a, wall.b, ray.a) != 0 || side(wall.a, wall.b, ray.b) != 0) continue;
      ++along;
      CHECK_FALSE(crosses(ray, wall));
    }
    for (const Point2 p : grid_points(4)) {
      CHECK_FALSE(crosses({p, p}, ray));
      CHECK_FALSE(crosses(ray, {p, p}));
    }
  }
  CHECK(along > 1000);
}

TEST_CASE("a device on a wall stands on its upper side, on a wall along y on the side of smaller x") {
  struct Row {
    Segment2 wall;
    Point2 on;
    Point2 same_side;
    Point2 other_side;
  };
  const Row rows[] = {
      {{{0, 0}, {4, 0}}, {2, 0}, {2, 3}, {2, -3}}, {{{4, 0}, {0, 0}}, {2, 0}, {1, 3}, {1, -3}},
      {{{0, 0}, {0, 4}}, {0, 2}, {-3, 2}, {3, 2}}, {{{0, 4}, {0, 0}}, {0, 2}, {-3, 1}, {3, 1}},
      {{{0, 0}, {4, 4}}, {2, 2}, {1, 4}, {4, 1}},  {{{0, 4}, {4, 0}}, {2, 2}, {4, 3}, {0, 1}}};
  for (const Row& row : rows) {
    CHECK(side(row.wall.a, row.wall.b, row.on) == 0);
    CHECK_FALSE(crosses({row.on, row.same_side}, row.wall));
    CHECK(crosses({row.on, row.other_side}, row.wall));
    CHECK(crosses({row.other_side, row.on}, row.wall));
  }
}

TEST_CASE("a device on a wall crosses it exactly when the other end is on the other side: 5 x 5 grid") {
  int checked = 0;
  for (const Segment2 wall : grid_segments(5)) {
    for (const Point2 on : grid_points(5)) {
      if (side(wall.a, wall.b, on) != 0 || dot(wall.a - on, wall.b - on) >= 0)
        continue;  // strictly between its ends
      for (const Point2 other : grid_points(5)) {
        const auto [c, d] = ordered(wall);
        ++checked;
        CHECK(crosses({on, other}, wall) == (side(c, d, other) < 0));
      }
    }
  }
  CHECK(checked > 5000);
}

TEST_CASE("distance to a segment and the fraction of its nearest point") {
  const Segment2 s{{0, 0}, {4, 0}};
  CHECK(distance_to_segment({2, 3}, s) == 3);
  CHECK(distance_to_segment({-3, 4}, s) == 5);
  CHECK(distance_to_segment({7, -4}, s) == 5);
  CHECK(distance_to_segment({3, 4}, {{0, 0}, {0, 0}}) == 5);
  CHECK(nearest_fraction({1, 9}, s) == 0.25);
  CHECK(nearest_fraction({-1, 0}, s) == 0);
  CHECK(nearest_fraction({9, 0}, s) == 1);
  CHECK(length(s) == 4);
}

TEST_CASE("a segment meets a box where it touches it, runs through it or ends in it, and not beside it") {
  const Box2 box{{1, 1}, {3, 2}};
  CHECK(meets({{0, 0}, {4, 3}}, box));
  CHECK(meets({{2, 1.5}, {2, 1.5}}, box));
  CHECK(meets({{2, 1.5}, {9, 9}}, box));
  CHECK(meets({{0, 2}, {1, 2}}, box));
  CHECK(meets({{0, 3}, {2, 1}}, box));                      // through the corner 1, 2
  CHECK(!meets({{0, 2.75}, {1.75, 1}}, {{1, 2}, {3, 3}}));  // their boxes meet
  CHECK(!meets({{3.25, 0}, {3.25, 4}}, box));
  // Against spots on it, those on the lines of the sides among them.
  const Box2 widened{{1 - 1e-9, 1 - 1e-9}, {3 + 1e-9, 2 + 1e-9}};
  for (const Segment2& s : grid_segments(5)) {
    bool inside = false;
    for (int k = 0; k <= 48; ++k) inside = inside || widened.holds(at_fraction(s, k / 48.0));
    CAPTURE(s.a.x);
    CAPTURE(s.a.y);
    CAPTURE(s.b.x);
    CAPTURE(s.b.y);
    CHECK(meets(s, box) == inside);
    CHECK(meets({s.b, s.a}, box) == inside);
  }
}
