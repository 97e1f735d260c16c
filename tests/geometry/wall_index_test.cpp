#include "linkmargin/geometry/wall_index.hpp"

#include "linkmargin/base/random.hpp"

#include "random_office.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <limits>

using namespace linkmargin;

namespace {

/// Rays of every awkward kind, snapped: through corners, along walls, ending on walls, parallel to the axes.
class RandomRays {
 public:
  RandomRays(const std::vector<Segment2>& walls, std::uint64_t seed) : walls_(walls), stream_(seed, 0xA1) {
    for (const Segment2 wall : walls) {
      for (const Point2 p : {wall.a, wall.b}) {
        box_.min = {std::min(box_.min.x, p.x), std::min(box_.min.y, p.y)};
        box_.max = {std::max(box_.max.x, p.x), std::max(box_.max.y, p.y)};
      }
    }
  }

  Segment2 next() {
    const Point2 a = free_point();
    const Point2 b = free_point();
    const Segment2 wall = walls_[stream_.bits(draw_++) % walls_.size()];
    switch (stream_.bits(draw_++) % 8) {
      case 0:
        return {a, b};
      case 1:
        return {a, {b.x, a.y}};
      case 2:
        return {a, {a.x, b.y}};
      case 3:
        return {wall.a, b};  // begins at a corner
      case 4:
        return {a, snapped(at_fraction(wall, stream_.uniform(draw_++)))};  // ends on a wall
      case 5:
        return {wall.a - (wall.b - wall.a),
                wall.b + (wall.b - wall.a)};  // along a wall and past both its ends
      case 6:
        return {a, wall.b + (wall.b - a)};  // right through a corner
      default:
        return {wall.a, walls_[stream_.bits(draw_++) % walls_.size()].b};  // from corner to corner
    }
  }

 private:
  Point2 free_point() {  // up to a tenth of the size outside the box
    const Point2 size = box_.max - box_.min;
    return snapped(Point2{box_.min.x + size.x * (1.2 * stream_.uniform(draw_++) - 0.1),
                          box_.min.y + size.y * (1.2 * stream_.uniform(draw_++) - 0.1)});
  }

  const std::vector<Segment2>& walls_;
  RandomStream stream_;
  std::uint64_t draw_ = 0;
  Box2 box_;
};

void check_equal(const WallIndex& index, const std::vector<Segment2>& walls, Segment2 ray) {
  const auto expected = scan_crossings(walls, ray);
  const auto found = index.crossings(ray);
  if (found != expected || index.crossings({ray.b, ray.a}) != expected) {
    CAPTURE(ray.a.x);
    CAPTURE(ray.a.y);
    CAPTURE(ray.b.x);
    CAPTURE(ray.b.y);
    FAIL("the index disagrees with the scan");
  }
}

}  // namespace

TEST_CASE("index and scan agree on 100,000 random links, and the sieve leaves few walls over") {
  struct Row {
    std::size_t walls;
    int rays;
    double max_share;  // of all walls that the exact predicate may see, on average
  };
  // Measured shares 0.0755, 0.0141 and 0.0040; the bounds leave a third of slack. A scan has a share of 1.
  const Row rows[] = {{60, 40'000, 0.10}, {600, 40'000, 0.019}, {5000, 20'000, 0.0054}};
  int links = 0;
  for (const Row& row : rows) {
    const auto walls = random_office(row.walls, 11);
    REQUIRE(walls.size() == row.walls);
    const WallIndex index(walls);
    RandomRays rays(walls, 12);
    double candidates = 0;
    double crossed = 0;
    for (int i = 0; i < row.rays; ++i, ++links) {
      const Segment2 ray = rays.next();
      check_equal(index, walls, ray);
      const auto looked_at = index.candidates(ray);
      const auto found = index.crossings(ray);
      REQUIRE(std::includes(looked_at.begin(), looked_at.end(), found.begin(), found.end()));
      candidates += static_cast<double>(looked_at.size());
      crossed += static_cast<double>(found.size());
    }
    const double share = candidates / row.rays / static_cast<double>(row.walls);
    MESSAGE(row.walls << " walls: " << candidates / row.rays << " looked at, " << crossed / row.rays
                      << " crossed on average, share " << share);
    CHECK(candidates <= crossed + 4.0 * row.rays);
    CHECK(share <= row.max_share);
  }
  CHECK(links == 100'000);
}

TEST_CASE(
    "every number of walls about an eight, about the first boxes, and with boxes over boxes over boxes") {
  std::vector<std::size_t> numbers{1023, 1024, 1025, 8192, 8193, 20'000};
  for (std::size_t n = 1; n <= 20; ++n) numbers.insert(numbers.end(), {n, 118 + n});
  for (const std::size_t n : numbers) {
    const auto walls = random_office(n, n);
    const WallIndex index(walls);
    RandomRays rays(walls, n + 1);
    for (int i = 0; i < 500; ++i) check_equal(index, walls, rays.next());
  }
}

TEST_CASE("a ray that crosses thousands of walls, and one that runs along thousands") {
  std::vector<Segment2> walls;
  for (int i = 0; i < 5000; ++i) {
    const double x = ((i * 1237) % 5000) * 0.5;  // in no order
    walls.push_back({{x, -0.25}, {x, 0.25}});
  }
  const WallIndex index(walls);
  CHECK(index.crossings({{-1, 0}, {2501, 0}}).size() == 5000);
  for (const Segment2 ray : {Segment2{{-1, 0}, {2501, 0}}, Segment2{{2501, 0.125}, {-1, -0.125}},
                             Segment2{{-1, 0.25}, {2501, 0.25}}, Segment2{{0.25, -0.25}, {40.25, -0.25}}}) {
    check_equal(index, walls, ray);
  }
  const std::vector<Segment2> heap(3000, {{1, 1}, {2, 2}});  // one over the other
  check_equal(WallIndex(heap), heap, {{1, 2}, {2, 1}});
  check_equal(WallIndex(heap), heap, {{0, 0}, {3, 3}});
}

TEST_CASE("at the ends of the coordinate range, where single precision is coarsest") {
  const RandomStream stream(20, 1);
  std::uint64_t draw = 0;
  std::vector<Segment2> walls;
  for (int i = 0; i < 400; ++i) {  // small ones in the four corners, a few across
    const double x = stream.bits(draw++) % 2 == 0 ? -4096 : 4095;
    const double y = stream.bits(draw++) % 2 == 0 ? -4096 : 4095;
    const double size = i % 40 == 0 ? 1 : 0.01;
    const auto near = [&] { return snapped(size * stream.uniform(draw++)); };
    const Point2 at = snapped(Point2{x + 0.99 * stream.uniform(draw++), y + 0.99 * stream.uniform(draw++)});
    walls.push_back({at, {std::min(at.x + near(), 4096.0), std::min(at.y + near(), 4096.0)}});
    if (i % 40 == 1) walls.push_back({walls[0].a, at});
  }
  const WallIndex index(walls);
  RandomRays rays(walls, 21);
  std::size_t crossed = 0;
  for (int i = 0; i < 20'000; ++i) {
    const Segment2 ray = rays.next();
    check_equal(index, walls, ray);
    crossed += index.crossings(ray).size();
  }
  CHECK(crossed > 20'000);
}

TEST_CASE("walls whose box has no width, no height or neither") {
  std::vector<Segment2> upright, level, one_line, points;
  for (int i = 0; i < 50; ++i) {
    const double at = i;
    upright.push_back({{3, at}, {3, at + 1}});
    level.push_back({{at, -2}, {at + 0.5, -2}});
    one_line.push_back({{at, at}, {at + 1, at + 1}});
    points.push_back({{7, 7}, {7, 7}});
  }
  for (const auto& walls : {upright, level, one_line, points, std::vector<Segment2>{{{1, 1}, {2, 5}}}}) {
    const WallIndex index(walls);
    RandomRays rays(walls, 13);
    const RandomStream stream(14, 1);
    for (std::uint64_t i = 0; i < 4000; i += 4) {
      check_equal(index, walls, rays.next());
      const auto number = [&](std::uint64_t k) { return std::floor(60 * stream.uniform(i + k)) - 5; };
      check_equal(index, walls, {{number(0), number(1)}, {number(2), number(3)}});
    }
  }
}

TEST_CASE("long walls over a whole site, and short ones in a corner of it") {
  const RandomStream stream(15, 1);
  std::vector<Segment2> walls{{{-2000, -2000}, {2000, 1999}}, {{-2000, 2000}, {2000, -2000}}};
  for (std::uint64_t i = 0; i < 800; i += 4) {
    const Point2 a = snapped(Point2{stream.uniform(i), stream.uniform(i + 1)});
    walls.push_back({a, snapped(a + Point2{0.01 * stream.uniform(i + 2), 0.01 * stream.uniform(i + 3)})});
  }
  const WallIndex index(walls);
  RandomRays rays(walls, 16);
  for (int i = 0; i < 4000; ++i) check_equal(index, walls, rays.next());
}

TEST_CASE("an empty index, a ray outside the box, and rays outside the coordinate range") {
  CHECK(WallIndex().crossings({{0, 0}, {1, 1}}).empty());
  CHECK(WallIndex(std::span<const Segment2>()).candidates({{0, 0}, {1, 1}}).empty());
  const auto walls = random_office(60, 17);
  const WallIndex index(walls);
  CHECK(index.candidates({{-9, -9}, {-5, 900}}).empty());
  CHECK(index.crossings({{-9, -9}, {-5, 900}}).empty());
  const double nan = std::numeric_limits<double>::quiet_NaN();
  for (const Segment2 ray : {Segment2{{-1e6, 5}, {1e6, 5.5}}, Segment2{{5, -9000}, {5, 9000}},
                             Segment2{{nan, 1}, {2, 3}}, Segment2{{-1e300, 0}, {1e300, 1e300}}}) {
    check_equal(index, walls, ray);
  }
  CHECK_FALSE(index.crossings({{-1e6, 5}, {1e6, 5.5}}).empty());
}

TEST_CASE("walls outside the coordinate range are refused") {
  for (const double x :
       {4096.5, -4096.5, std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity()}) {
    const std::vector<Segment2> walls{{{0, 0}, {x, 1}}};
    CHECK_THROWS_AS(WallIndex{walls}, DomainError);
  }
  const std::vector<Segment2> walls{{{-4096, -4096}, {4096, 4096}}};
  check_equal(WallIndex(walls), walls, {{-4096, 4096}, {4096, -4096}});
}

TEST_CASE("ends that are not on the coordinate grid") {
  const auto walls = random_office(600, 18);
  const WallIndex index(walls);
  const RandomStream stream(19, 1);
  for (std::uint64_t i = 0; i < 40'000; i += 4) {
    check_equal(index, walls,
                {{60 * stream.uniform(i), 60 * stream.uniform(i + 1)},
                 {60 * stream.uniform(i + 2), 60 * stream.uniform(i + 3)}});
  }
}
