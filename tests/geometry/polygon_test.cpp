#include "linkmargin/geometry/polygon.hpp"

#include "linkmargin/base/random.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>

using namespace linkmargin;

namespace {

const Polygon2 kEll{{0, 0}, {6, 0}, {6, 2}, {2, 2}, {2, 5}, {0, 5}};

/// Where the edges of a polygon stand over x, from below.
std::vector<double> heights(const Polygon2& polygon, double x) {
  std::vector<double> ys;
  for (const Segment2 edge : edges(polygon)) {
    const auto [c, d] = ordered(edge);
    if (c.x < x && x < d.x) ys.push_back(c.y + (d.y - c.y) * (x - c.x) / (d.x - c.x));
  }
  std::ranges::sort(ys);
  return ys;
}

/// The oracle of shared_area(): between all x at which an edge begins, ends or meets another, both polygons
/// are trapezoids, so that the length shared in the middle of the strip times its width is the area.
double shared_area_by_strips(const Polygon2& left, const Polygon2& right) {
  std::vector<Segment2> all = edges(left);
  for (const Segment2 edge : edges(right)) all.push_back(edge);
  std::vector<double> xs;
  for (const Segment2 edge : all) {
    xs.push_back(edge.a.x);
    for (const Segment2 other : all) {
      const double before = side(other.a, other.b, edge.a);
      const double after = side(other.a, other.b, edge.b);
      if ((before > 0) != (after > 0)) xs.push_back(at_fraction(edge, before / (before - after)).x);
    }
  }
  std::ranges::sort(xs);
  double area = 0;
  for (std::size_t i = 1; i < xs.size(); ++i) {
    const double middle = (xs[i - 1] + xs[i]) / 2;
    const auto a = heights(left, middle);
    const auto b = heights(right, middle);
    for (std::size_t m = 1; m < a.size(); m += 2) {
      for (std::size_t n = 1; n < b.size(); n += 2) {
        const double overlap = std::min(a[m], b[n]) - std::max(a[m - 1], b[n - 1]);
        area += std::max(0.0, overlap) * (xs[i] - xs[i - 1]);
      }
    }
  }
  return area;
}

/// A star-shaped polygon with snapped corners: simple.
Polygon2 random_polygon(const RandomStream& stream, std::uint64_t& draw, Point2 middle, double radius_m) {
  const auto corners = 3 + stream.bits(draw++) % 8;
  Polygon2 polygon;
  for (std::uint64_t i = 0; i < corners; ++i) {
    const double angle = 2 * std::numbers::pi * (static_cast<double>(i) + 0.8 * stream.uniform(draw++)) /
                         static_cast<double>(corners);
    const double reach = radius_m * (0.3 + 0.7 * stream.uniform(draw++));
    polygon.push_back(snapped(middle + reach * Point2{std::cos(angle), std::sin(angle)}));
  }
  return polygon;
}

}  // namespace

TEST_CASE("rectangle, area, box and centroid") {
  const Polygon2 room = rectangle({1, 2}, 6, 4);
  CHECK(room == Polygon2{{1, 2}, {7, 2}, {7, 6}, {1, 6}});
  CHECK(signed_area(room) == 24);
  CHECK(signed_area({room.rbegin(), room.rend()}) == -24);
  CHECK(centroid(room) == Point2{4, 4});
  CHECK(bounding_box(kEll).max == Point2{6, 5});
  CHECK(signed_area(kEll) == 18);
  // Hand-worked: (12 m2 at (3, 1) + 6 m2 at (1, 3.5)) / 18 m2.
  CHECK(std::abs(centroid(kEll).x - 42.0 / 18) <= 1e-12);
  CHECK(std::abs(centroid(kEll).y - 33.0 / 18) <= 1e-12);
  CHECK(edges(kEll).size() == 6);
  CHECK(edges(kEll).back() == Segment2{{0, 5}, {0, 0}});
}

TEST_CASE("polygons without area") {
  CHECK(signed_area({}) == 0);
  CHECK(centroid({}) == Point2{});
  CHECK(centroid({{1, 1}, {3, 1}}) == Point2{2, 1});
  CHECK(label_point({{1, 1}, {3, 1}}) == Point2{2, 1});
  CHECK(label_point({}) == Point2{});
  CHECK_FALSE(contains({}, {0, 0}));
  CHECK_FALSE(contains({{0, 0}, {2, 0}}, {1, 0}));
  CHECK(distance_to_edges({}, {0, 0}) == std::numeric_limits<double>::infinity());
}

TEST_CASE("a tiling holds every point exactly once, points on edges and corners included") {
  // A 4 x 4 square cut into triangles, an L and a slanting quadrilateral, all corners on a half-metre grid.
  const std::vector<Polygon2> tiles{{{0, 0}, {4, 0}, {2, 1}},
                                    {{0, 0}, {2, 1}, {1, 3}, {0, 4}},
                                    {{4, 0}, {4, 4}, {3, 4}, {3, 2}, {2, 1}},
                                    {{2, 1}, {3, 2}, {3, 4}, {0, 4}, {1, 3}}};
  double area = 0;
  for (const Polygon2& tile : tiles) area += std::abs(signed_area(tile));
  REQUIRE(area == 16);
  int inside = 0;
  for (int i = -8; i <= 40; ++i) {
    for (int j = -8; j <= 40; ++j) {
      const Point2 p{i / 8.0, j / 8.0};
      int held = 0;
      for (Polygon2 tile : tiles) {
        const bool is_in = contains(tile, p);
        std::ranges::reverse(tile);
        CHECK(contains(tile, p) == is_in);
        if (is_in) ++held;
      }
      const bool in_square = p.x > 0 && p.x <= 4 && p.y >= 0 && p.y < 4;
      CHECK(held == int{in_square});
      inside += held;
    }
  }
  CHECK(inside == 32 * 32);
}

TEST_CASE("contains agrees with crosses on the side of a point on an edge") {
  const Polygon2 left = rectangle({0, 0}, 4, 4);
  const Polygon2 right = rectangle({4, 0}, 4, 4);
  const Polygon2 upper = rectangle({0, 4}, 4, 4);
  CHECK(contains(left, {4, 2}));
  CHECK_FALSE(contains(right, {4, 2}));
  CHECK_FALSE(crosses({{4, 2}, {1, 2}}, {{4, 0}, {4, 4}}));
  CHECK(crosses({{4, 2}, {7, 2}}, {{4, 0}, {4, 4}}));
  CHECK(contains(upper, {2, 4}));
  CHECK_FALSE(contains(left, {2, 4}));
  CHECK(crosses({{2, 4}, {2, 1}}, {{0, 4}, {4, 4}}));
  CHECK_FALSE(crosses({{2, 4}, {2, 7}}, {{0, 4}, {4, 4}}));
}

TEST_CASE("a ray changes between inside and outside exactly when it crosses an odd number of edges") {
  const RandomStream stream(3, 1);
  std::uint64_t draw = 0;
  for (int run = 0; run < 2000; ++run) {
    const Polygon2 polygon = random_polygon(stream, draw, {0, 0}, 5);
    const auto point = [&] {
      return snapped(Point2{12 * stream.uniform(draw++) - 6, 12 * stream.uniform(draw++) - 6});
    };
    const Segment2 ray{point(), point()};
    int crossed = 0;
    for (const Segment2 edge : edges(polygon)) crossed += int{crosses(ray, edge)};
    CHECK((crossed % 2 == 1) == (contains(polygon, ray.a) != contains(polygon, ray.b)));
  }
}

TEST_CASE("self-crossing polygons are found, simple ones are not") {
  CHECK_FALSE(self_crossing(kEll));
  CHECK_FALSE(self_crossing(rectangle({0, 0}, 1, 1)));
  CHECK_FALSE(self_crossing({{0, 0}, {2, 0}, {4, 0}, {4, 3}, {0, 3}}));  // a corner in a straight edge
  CHECK_FALSE(self_crossing({{0, 0}, {4, 0}, {4, 0}, {4, 3}, {0, 3}, {0, 0}}));    // repeated corners
  CHECK(self_crossing({{0, 0}, {4, 4}, {4, 0}, {0, 4}}) == Point2{2, 2});          // bow tie
  CHECK(self_crossing({{0, 0}, {4, 0}, {4, 2}, {2, 0}, {0, 2}}) == Point2{2, 0});  // a corner on another edge
  CHECK(self_crossing({{0, 0}, {6, 0}, {4, 0}, {4, 3}, {0, 3}}) == Point2{6, 0});  // runs back along itself
  CHECK(self_crossing({{0, 0}, {2, 2}, {4, 0}, {4, 4}, {2, 2}, {0, 4}}) ==
        Point2{2, 2});  // pinched at a corner
  CHECK(self_crossing({{0, 0}, {0, 4}, {-2, 4}, {0, 2}, {-2, 0}}) == Point2{0, 2});  // on an upright edge
}

TEST_CASE("self_crossing finds what a plain look at every pair of edges finds") {
  const RandomStream stream(4, 1);
  std::uint64_t draw = 0;
  int crossing = 0;
  for (int run = 0; run < 3000; ++run) {
    Polygon2 polygon;
    for (int i = 0; i < 6; ++i) {
      polygon.push_back({static_cast<double>(stream.bits(draw++) % 97) / 8,
                         static_cast<double>(stream.bits(draw++) % 97) / 8});
    }
    const auto all = edges(polygon);
    bool proper = false;  // strictly through each other
    for (const Segment2 a : all) {
      for (const Segment2 b : all) {
        proper = proper || (side(a.a, a.b, b.a) * side(a.a, a.b, b.b) < 0 &&
                            side(b.a, b.b, a.a) * side(b.a, b.b, a.b) < 0);
      }
    }
    const auto place = self_crossing(polygon);
    if (proper) {
      ++crossing;
      CHECK(place.has_value());
    }
    if (place) CHECK(distance_to_edges(polygon, *place) <= 1e-12);
    if (!place) CHECK(std::abs(signed_area(polygon)) > 0);
  }
  CHECK(crossing > 1000);
  CHECK(crossing < 2990);
}

TEST_CASE("shared area of polygons that overlap, touch, hold one another or lie apart") {
  const Polygon2 square = rectangle({0, 0}, 4, 4);
  CHECK(shared_area(square, rectangle({4, 0}, 2, 4)) == 0);
  CHECK(shared_area(square, rectangle({4, 4}, 2, 4)) == 0);
  CHECK(shared_area(square, rectangle({9, 9}, 2, 4)) == 0);
  CHECK(std::abs(shared_area(square, rectangle({3, 3}, 2, 2)) - 1) <= 1e-12);
  CHECK(std::abs(shared_area(square, rectangle({1, 1}, 2, 2)) - 4) <= 1e-12);
  CHECK(std::abs(shared_area(square, square) - 16) <= 1e-12);
  CHECK(std::abs(shared_area(kEll, rectangle({1, 1}, 3, 3)) - 5) <= 1e-12);
  CHECK(std::abs(shared_area({kEll.rbegin(), kEll.rend()}, rectangle({1, 1}, 3, 3)) - 5) <= 1e-12);
  CHECK(shared_area(kEll, rectangle({2, 2}, 4, 3)) == 0);  // fills the L's notch
}

TEST_CASE("shared area equals the integration by strips") {
  const RandomStream stream(5, 1);
  std::uint64_t draw = 0;
  double worst = 0;
  int overlapping = 0;
  for (int run = 0; run < 3000; ++run) {
    const Polygon2 left = random_polygon(stream, draw, {0, 0}, 5);
    const Polygon2 right = random_polygon(stream, draw, {4 * stream.uniform(draw++), 3}, 5);
    const double found = shared_area(left, right);
    if (found > 0) ++overlapping;
    worst = std::max(worst, std::abs(found - shared_area_by_strips(left, right)));
    CHECK(std::abs(found - shared_area(right, left)) <= 1e-9);
  }
  CAPTURE(worst);
  CHECK(overlapping > 2500);
  CHECK(worst <= 1e-9);
}

TEST_CASE("shared area of rooms on a coarse grid, where edges and corners coincide") {
  const RandomStream stream(6, 1);
  std::uint64_t draw = 0;
  double worst = 0;
  for (int run = 0; run < 5000; ++run) {
    const auto number = [&](std::uint64_t from, std::uint64_t count) {
      return static_cast<double>(from + stream.bits(draw++) % count);
    };
    Polygon2 ell = kEll;
    const double x = number(0, 7), y = number(0, 6);
    const Polygon2 room = rectangle({x - 1, y - 1}, number(1, 4), number(1, 4));
    worst = std::max(worst, std::abs(shared_area(ell, room) - shared_area_by_strips(ell, room)));
    const Polygon2 slant{{x, y}, {x + number(1, 3), y}, {x + number(1, 3), y + number(1, 3)}};
    worst = std::max(worst, std::abs(shared_area(ell, slant) - shared_area_by_strips(ell, slant)));
  }
  CHECK(worst <= 1e-9);
}

TEST_CASE("shared area of slanting rooms that share a wall but for the snapping of its ends") {
  const RandomStream stream(7, 1);
  std::uint64_t draw = 0;
  double worst = 0;
  double largest = 0;
  for (int run = 0; run < 3000; ++run) {
    const auto number = [&](double from, double to) { return from + (to - from) * stream.uniform(draw++); };
    const Point2 low = snapped(Point2{number(0, 2), number(0, 2)});
    const Point2 high = snapped(Point2{number(3, 5), number(6, 9)});
    const auto jolt = [&] {
      return kGridPitchM * static_cast<double>(stream.bits(draw++) % 3) - kGridPitchM;
    };
    const Point2 on = snapped(at_fraction({low, high}, number(0.2, 0.8)));
    const Polygon2 left{low, {high.x + jolt(), high.y + jolt()}, {-4, 9}, {-4, 0}};
    const Polygon2 right{
        {low.x + jolt(), low.y + jolt()}, {12, 0}, {12, 9}, high, {on.x + jolt(), on.y + jolt()}};
    const double found = shared_area(left, right);
    worst = std::max(worst, std::abs(found - shared_area_by_strips(left, right)));
    largest = std::max(largest, found);
  }
  CHECK(worst <= 1e-9);
  CHECK(largest > 0);
  CHECK(largest < 0.01);  // 12 m of wall times a few pitches
}

TEST_CASE("a label stands inside and nearly as deep as anything can") {
  CHECK(label_point(rectangle({1, 2}, 6, 4)) == Point2{4, 4});
  // The deepest point of this L touches both outer edges and the inner corner: x = y = 4 - 2 sqrt 2... along
  // its diagonal, at a depth of 2 (2 - sqrt 2) = 1.1716 m.
  const Point2 label = label_point(kEll);
  CHECK(contains(kEll, label));
  CHECK(distance_to_edges(kEll, label) >= 1.1716 - 6.0 / 50);
  const Polygon2 horseshoe{{0, 0}, {10, 0}, {10, 8}, {9, 8}, {9, 1}, {1, 1}, {1, 8}, {0, 8}};
  CHECK_FALSE(contains(horseshoe, centroid(horseshoe)));
  CHECK(contains(horseshoe, label_point(horseshoe)));
  CHECK(distance_to_edges(horseshoe, label_point(horseshoe)) >= 0.3);
  const Polygon2 sliver{{0, 0}, {100, 0}, {100, 0.001}, {50, 0.0005}};
  CHECK(distance_to_edges(sliver, label_point(sliver)) <= 0.001);
}

TEST_CASE(
    "no point of a fine lattice lies deeper than a label by more than a fiftieth of the polygon's size") {
  for (std::uint64_t seed = 0; seed < 150; ++seed) {
    const RandomStream random(seed, 0x1ABE1);
    std::uint64_t draw = 0;
    Polygon2 polygon;  // star-shaped, mostly thin arms
    const int corners = 5 + static_cast<int>(random.bits(draw++) % 9);
    for (int i = 0; i < corners; ++i) {
      const double angle = 6.283 * (i + 0.7 * random.uniform(draw++)) / corners;
      const double radius_m = i % 2 == 0 ? 1 + 4 * random.uniform(draw++) : 0.3 + 2 * random.uniform(draw++);
      polygon.push_back(snapped({radius_m * std::cos(angle), radius_m * std::sin(angle)}));
    }
    const Box2 box = bounding_box(polygon);
    const double size_m = std::max(box.max.x - box.min.x, box.max.y - box.min.y);
    double deepest_m = 0;
    constexpr int kLattice = 120;
    for (int i = 0; i <= kLattice; ++i) {
      for (int j = 0; j <= kLattice; ++j) {
        const Point2 p{box.min.x + i * size_m / kLattice, box.min.y + j * size_m / kLattice};
        if (contains(polygon, p)) deepest_m = std::max(deepest_m, distance_to_edges(polygon, p));
      }
    }
    const Point2 label = label_point(polygon);
    CAPTURE(seed);
    CHECK(contains(polygon, label));
    CHECK(distance_to_edges(polygon, label) >= deepest_m - size_m / 50 - 1e-9);
  }
}
