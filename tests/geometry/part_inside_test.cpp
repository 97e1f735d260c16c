#include "linkmargin/geometry/part_inside.hpp"

#include "linkmargin/base/random.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <vector>

using namespace linkmargin;

namespace {

/// Where the first part inside begins, by cutting the ray at every edge and asking for the middle of each
/// piece; 2 where no piece is inside.
double begin_by_pieces(const Polygon2& polygon, Segment2 ray) {
  ray = ordered(ray);
  std::vector<double> cuts{0, 1};
  for (const Segment2 edge : edges(polygon)) {
    const double before = side(edge.a, edge.b, ray.a), after = side(edge.a, edge.b, ray.b);
    if (before != after) cuts.push_back(std::clamp(before / (before - after), 0.0, 1.0));
  }
  std::ranges::sort(cuts);
  for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
    if ((cuts[i + 1] - cuts[i]) * length(ray) < 1e-6) continue;
    if (contains(polygon, at_fraction(ray, (cuts[i] + cuts[i + 1]) / 2))) return cuts[i];
  }
  return 2;
}

bool runs_along_edge(const Polygon2& polygon, Segment2 ray) {
  return std::ranges::any_of(edges(polygon), [&](Segment2 edge) {
    return side(ray.a, ray.b, edge.a) == 0 && side(ray.a, ray.b, edge.b) == 0;
  });
}

}  // namespace

TEST_CASE("a ray runs inside where the middles of its pieces lie, from corners and edges too") {
  int inside = 0, outside = 0;
  for (std::uint64_t seed = 0; seed < 3000; ++seed) {
    const RandomStream random(seed, 0x1EA);
    std::uint64_t draw = 0;
    const auto lattice = [&](int count) {
      return static_cast<double>(random.bits(draw++) % static_cast<unsigned>(count));
    };
    // About (4, 4), often concave, corners on a lattice of quarter metres, either way round.
    Polygon2 polygon;
    const int corners = 3 + static_cast<int>(lattice(5));
    for (int i = 0; i < corners; ++i) {
      const double angle = 6.283 * (i + 0.8 * random.uniform(draw++)) / corners;
      const double radius_m = 1 + 2 * random.uniform(draw++);
      polygon.push_back({std::round(4 * (4 + radius_m * std::cos(angle))) / 4,
                         std::round(4 * (4 + radius_m * std::sin(angle))) / 4});
    }
    if (lattice(2) == 0) std::ranges::reverse(polygon);
    const auto point = [&]() {
      if (lattice(3) == 0) return polygon[static_cast<std::size_t>(lattice(corners))];
      return Point2{lattice(33) / 4, lattice(33) / 4};
    };
    for (int i = 0; i < 20; ++i) {
      const Segment2 ray{point(), point()};
      if (ray.a == ray.b || runs_along_edge(polygon, ray)) continue;
      CAPTURE(seed);
      CAPTURE(i);
      const auto part = first_part_inside(polygon, ray, {0, 1});
      const double begin = begin_by_pieces(polygon, ray);
      REQUIRE(part.has_value() == (begin <= 1));
      ++(part ? inside : outside);
      const auto turned = first_part_inside(polygon, {ray.b, ray.a}, {0, 1});
      REQUIRE(turned.has_value() == part.has_value());
      if (!part) continue;
      CHECK(std::abs(part->from - begin) <= 1e-12);
      CHECK(part->to > part->from);
      CHECK(turned->from == part->from);
      CHECK(turned->to == part->to);
    }
  }
  CHECK(inside > 10'000);
  CHECK(outside > 10'000);
}

TEST_CASE("along an edge a ray counts the same, whether it begins before the corner or there") {
  const Polygon2 box = rectangle({2, 2}, 2, 1);
  int along = 0;
  for (const Point2 corner : box) {
    for (const Point2 step : {Point2{1, 0}, Point2{-1, 0}, Point2{0, 1}, Point2{0, -1}}) {
      const Point2 next = corner + step, end = corner + 5 * step;
      const bool outwards = next.x < 2 || next.x > 4 || next.y < 2 || next.y > 3;
      const bool whole = first_part_inside(box, {corner - 3 * step, end}, {0, 1}).has_value();
      CHECK(first_part_inside(box, {corner, end}, {0, 1}).has_value() == (whole && !outwards));
      along += whole && !outwards;
    }
  }
  CHECK(along == 4);  // both ways along the upper edge and the one on the left: the box lies to the right
}

TEST_CASE("a slice cuts what runs inside") {
  const Polygon2 box = rectangle({2, 2}, 2, 1);
  const auto part = first_part_inside(box, {{0, 2.5}, {8, 2.5}}, {0.375, 1});
  REQUIRE(part);
  CHECK(part->from == 0.375);
  CHECK(part->to == 0.5);
  CHECK_FALSE(first_part_inside(box, {{0, 2.5}, {8, 2.5}}, {0.5, 1}));
  CHECK_FALSE(first_part_inside(box, {{0, 2.5}, {8, 2.5}}, {0, 0.25}));
}
