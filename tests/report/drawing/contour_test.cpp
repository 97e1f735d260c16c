#include "linkmargin/report/drawing/contour.hpp"

#include "linkmargin/geometry/polygon.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>

using namespace linkmargin;

namespace {

Field random_field(int columns, int rows, std::uint64_t seed, std::vector<double>& values) {
  values.clear();
  std::uint64_t state = seed;
  for (int i = 0; i < columns * rows; ++i) {
    state = state * 6364136223846793005ULL + 1442695040888963407ULL;
    values.push_back(static_cast<double>(state >> 40U) / (1U << 23U) - 1);
  }
  return {columns, rows,
          [&values, columns](int c, int r) { return values[static_cast<std::size_t>(r * columns + c)]; }};
}

bool even_odd_inside(const std::vector<std::vector<Point2>>& rings, Point2 p) {
  bool inside = false;
  for (const auto& ring : rings) inside ^= contains(ring, p);
  return inside;
}

/// Every place on a grid edge between a point below zero and one not below, found edge by edge.
std::set<std::pair<double, double>> crossings_of_edges(const Field& field) {
  std::set<std::pair<double, double>> found;
  const auto edge = [&](int c0, int r0, int c1, int r1) {
    if (c1 >= field.columns || r1 >= field.rows) return;
    const double a = field.at(c0, r0);
    const double b = field.at(c1, r1);
    if ((a < 0) == (b < 0)) return;
    const double t = a / (a - b);
    found.emplace(c0 + (c1 - c0) * t, r0 + (r1 - r0) * t);
  };
  for (int r = 0; r < field.rows; ++r) {
    for (int c = 0; c < field.columns; ++c) {
      edge(c, r, c + 1, r);
      edge(c, r, c, r + 1);
    }
  }
  return found;
}

}  // namespace

TEST_CASE("a circle: one closed line, all points on it, its area and turn") {
  const double radius = 30.3;
  const Field field{81, 81, [&](int c, int r) { return std::hypot(c - 40.2, r - 39.7) - radius; }};
  const auto lines = zero_lines(field);
  REQUIRE(lines.size() == 1);
  CHECK(lines[0].closed);
  for (const Point2 p : lines[0].points) {
    // linear between points a cell apart: off by at most the sagitta 1/(8 r)
    CHECK(std::abs(distance(p, {40.2, 39.7}) - radius) <= 1 / (8 * radius) + 1e-9);
  }
  const double area = signed_area(lines[0].points);
  CHECK(area > 0);  // below zero on the left: counter-clockwise round the inside
  CHECK(std::abs(area - std::numbers::pi * radius * radius) <= 0.002 * area);
  CHECK(zones_below_zero(field).size() == 1);
}

TEST_CASE("a ring: two lines, the inner one the other way round") {
  const Field field{61, 61, [](int c, int r) {
                      const double d = std::hypot(c - 30.0, r - 30.0);
                      return std::abs(d - 15) - 5.3;
                    }};
  const auto zones = zones_below_zero(field);
  REQUIRE(zones.size() == 2);
  const double sum = signed_area(zones[0]) + signed_area(zones[1]);
  CHECK(std::abs(sum - std::numbers::pi * (20.3 * 20.3 - 9.7 * 9.7)) <= 0.01 * sum);
}

TEST_CASE("a line over the grid is open, its zone closed along the edge of the outermost cells") {
  const Field field{11, 6, [](int c, int r) { return c + 0.25 * r - 4.1; }};
  const auto lines = zero_lines(field);
  REQUIRE(lines.size() == 1);
  CHECK(!lines[0].closed);
  for (const Point2 p : lines[0].points) CHECK(std::abs(p.x + 0.25 * p.y - 4.1) <= 1e-12);
  const auto zones = zones_below_zero(field);
  REQUIRE(zones.size() == 1);
  const Box2 box = bounding_box(zones[0]);
  CHECK(box.min.x == -0.5);
  CHECK(box.min.y == -0.5);
  CHECK(box.max.y == 5.5);
}

TEST_CASE("random fields: the lines pass where edge by edge finds a change, and nowhere else") {
  std::vector<double> values;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    CAPTURE(seed);
    const Field field = random_field(17, 13, seed, values);
    std::set<std::pair<double, double>> passed;
    std::size_t points = 0;
    for (const ContourLine& line : zero_lines(field)) {
      points += line.points.size();
      for (const Point2 p : line.points) passed.emplace(p.x, p.y);
      if (line.closed) continue;
      for (const Point2 end : {line.points.front(), line.points.back()}) {
        CHECK((end.x == 0 || end.y == 0 || end.x == 16 || end.y == 12));
      }
    }
    const auto expected = crossings_of_edges(field);
    CHECK(points == expected.size());  // each once
    REQUIRE(passed.size() == expected.size());
    auto at = expected.begin();
    for (const auto& [x, y] : passed) {
      CHECK(std::abs(x - at->first) <= 1e-12);
      CHECK(std::abs(y - at->second) <= 1e-12);
      ++at;
    }
  }
}

TEST_CASE("random fields: the zones hold the points below zero and no others") {
  std::vector<double> values;
  for (std::uint64_t seed = 100; seed < 160; ++seed) {
    CAPTURE(seed);
    const Field field = random_field(15, 12, seed, values);
    const auto zones = zones_below_zero(field);
    for (int r = 0; r < field.rows; ++r) {
      for (int c = 0; c < field.columns; ++c) {
        CHECK(even_odd_inside(zones, {static_cast<double>(c), static_cast<double>(r)}) ==
              (field.at(c, r) < 0));
      }
    }
  }
}

TEST_CASE("all below, none below, one point") {
  const auto constant = [](double value) { return Field{5, 4, [value](int, int) { return value; }}; };
  CHECK(zero_lines(constant(-1)).empty());
  CHECK(zero_lines(constant(1)).empty());
  CHECK(zones_below_zero(constant(1)).empty());
  REQUIRE(zones_below_zero(constant(-1)).size() == 1);
  CHECK(signed_area(zones_below_zero(constant(-1))[0]) == doctest::Approx(5 * 4));  // to the corners
  const auto point = zones_below_zero({1, 1, [](int, int) { return -1.0; }});
  REQUIRE(point.size() == 1);
  CHECK(signed_area(point[0]) == doctest::Approx(1));
  CHECK(zones_below_zero(constant(std::nan(""))).size() == 1);
}

TEST_CASE("simplifying keeps within the tolerance and drops what it can") {
  const Field field{201, 201, [](int c, int r) { return std::hypot(c - 100.0, r - 100.0) - 80; }};
  const ContourLine line = zero_lines(field).at(0);
  for (const double tolerance : {0.05, 0.3, 2.0}) {
    CAPTURE(tolerance);
    const ContourLine fewer = simplified(line, tolerance);
    CHECK(fewer.closed);
    CHECK(fewer.points.size() < line.points.size() / 4);
    for (const Point2 p : line.points) CHECK(distance_to_edges(fewer.points, p) <= tolerance + 1e-12);
  }
  const ContourLine straight{{{0, 0}, {1, 0}, {2, 0}, {5, 0}}, false};
  CHECK(simplified(straight, 0.01).points.size() == 2);
}

TEST_CASE("a line is rounded where it turns a little, and stays sharp where it turns much") {
  const ContourLine bent{{{0, 0}, {10, 0}, {20, 5}}, false};
  CHECK(smooth_path(bent, 2) == "M0.0,0.0 L8.0,0.0 Q10.0,0.0 11.8,0.9 L20.0,5.0");
  const ContourLine corner{{{0, 0}, {10, 0}, {10, 10}, {0, 10}}, true};
  CHECK(smooth_path(corner, 2) == "M0.0,0.0 L10.0,0.0 L10.0,10.0 L0.0,10.0Z");
  // No more than half of what lies between two corners is given to either.
  const ContourLine near{{{0, 0}, {1, 0}, {2, 0.6}, {3, 0.6}}, false};
  CHECK(smooth_path(near, 5) == "M0.0,0.0 L0.5,0.0 Q1.0,0.0 1.5,0.3 L1.5,0.3 Q2.0,0.6 2.5,0.6 L3.0,0.6");
}

TEST_CASE("a rounded line lies within its corners' reach of the line itself") {
  std::vector<Point2> circle;
  for (int i = 0; i < 24; ++i) {
    const double angle = 2 * std::numbers::pi * i / 24;
    circle.push_back({100 + 50 * std::cos(angle), 100 + 50 * std::sin(angle)});
  }
  const std::string path = smooth_path({circle, true}, 4);
  CHECK(std::count(path.begin(), path.end(), 'Q') == 24);
  CHECK(path.ends_with("Z"));
}
