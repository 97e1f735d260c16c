#include "linkmargin/geometry/arrangement.hpp"

#include "linkmargin/base/random.hpp"
#include "linkmargin/geometry/polygon.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

using namespace linkmargin;

namespace {

std::vector<Segment2> outline(Point2 corner, double width_m, double depth_m) {
  return edges(rectangle(corner, width_m, depth_m));
}

void add(std::vector<Segment2>& all, const std::vector<Segment2>& more) {
  all.insert(all.end(), more.begin(), more.end());
}

std::vector<double> areas(const Arrangement& plan) {
  std::vector<double> result;
  for (std::size_t face = 1; face < plan.faces().size(); ++face) result.push_back(plan.faces()[face].area_m2);
  std::ranges::sort(result);
  return result;
}

}  // namespace

TEST_CASE("nothing, one segment and an open chain enclose nothing") {
  CHECK(Arrangement().faces().size() == 1);
  CHECK(Arrangement(std::vector<Segment2>{}).face_of({0, 0}) == Arrangement::kOutside);
  const Arrangement chain(std::vector<Segment2>{{{0, 0}, {4, 0}}, {{4, 0}, {4, 4}}, {{4, 4}, {1, 4}}});
  CHECK(chain.faces().size() == 1);
  CHECK(chain.edges().size() == 3);
  for (const Arrangement::Edge& edge : chain.edges()) CHECK((edge.left == 0 && edge.right == 0));
}

TEST_CASE("a wall across a room parts it, one that stops short does not") {
  std::vector<Segment2> walls = outline({0, 0}, 6, 4);
  walls.push_back({{2, 0}, {2, 4}});
  const Arrangement parted(walls);
  CHECK(areas(parted) == std::vector<double>{8, 16});
  CHECK(parted.face_of({1, 1}) != parted.face_of({3, 1}));
  CHECK(parted.face_of({-1, 1}) == Arrangement::kOutside);
  CHECK(parted.face_of({3, 5}) == Arrangement::kOutside);
  walls.back() = {{2, 0}, {2, 3.5}};
  const Arrangement open(walls);
  REQUIRE(areas(open) == std::vector<double>{24});
  CHECK(open.faces()[1].edge_m == doctest::Approx(20 + 2 * 3.5));
  CHECK(open.faces()[1].middle.x == doctest::Approx(3));
  // The jutting wall has the room on both its sides.
  int jutting = 0;
  for (const Arrangement::Edge& edge : open.edges()) jutting += edge.left == edge.right ? 1 : 0;
  CHECK(jutting == 1);
}

TEST_CASE("a box that stands free in a room is a hole in it, and a room of its own") {
  std::vector<Segment2> walls = outline({0, 0}, 10, 8);
  add(walls, outline({4, 3}, 2, 1));
  const Arrangement plan(walls);
  CHECK(areas(plan) == std::vector<double>{2, 78});
  CHECK(plan.face_of({5, 3.5}) != plan.face_of({1, 1}));
  CHECK(plan.face_of({5, 3.5}) != Arrangement::kOutside);
  CHECK(plan.face_of({3.9, 3.5}) == plan.face_of({1, 1}));
  // Tied to the room by a wall, it is the same.
  walls.push_back({{0, 3.5}, {4, 3.5}});
  CHECK(areas(Arrangement(walls)) == std::vector<double>{2, 78});
}

TEST_CASE("walls on each other are one edge with all their sources; crossing ones are cut") {
  std::vector<Segment2> walls = outline({0, 0}, 4, 4);
  add(walls, outline({4, 1}, 3, 2));
  const Arrangement touching(walls);
  CHECK(areas(touching) == std::vector<double>{6, 16});
  const auto shared = std::ranges::count(touching.edges(), 2U, &Arrangement::Edge::count);
  CHECK(shared == 1);
  const Arrangement cross(std::vector<Segment2>{{{-1, 0}, {1, 0}}, {{0, -1}, {0, 1}}});
  CHECK(cross.edges().size() == 4);
}

TEST_CASE("faces tile what walls enclose, and stay the same however the sheet is turned") {
  const RandomStream random(11, 0xA4);
  for (std::uint64_t round = 0; round < 60; ++round) {
    std::vector<Segment2> walls = outline({0, 0}, 12, 9);
    std::uint64_t draw = 100 * round;
    for (int i = 0; i < 9; ++i) {
      const auto at = [&] { return Point2{12 * random.uniform(draw++), 9 * random.uniform(draw++)}; };
      const Point2 a = at();
      walls.push_back({a, at()});
    }
    const Arrangement plan(walls);
    double sum = 0;
    for (const Arrangement::Face& face : plan.faces()) sum += face.area_m2;
    CHECK(std::abs(sum - 108) <= 0.01);  // what nearly meets is welded
    const double turn = 0.1 + 6 * random.uniform(draw++);
    const bool mirrored = round % 2 == 1;
    const auto turned = [&](Point2 p) {
      if (mirrored) p.x = -p.x;
      return Point2{p.x * std::cos(turn) - p.y * std::sin(turn) + 7,
                    p.x * std::sin(turn) + p.y * std::cos(turn) - 3};
    };
    std::vector<Segment2> other;
    for (const Segment2& wall : walls) other.insert(other.begin(), {turned(wall.b), turned(wall.a)});
    const Arrangement again(other);
    const std::vector<double> one = areas(plan), two = areas(again);
    REQUIRE(one.size() == two.size());
    for (std::size_t i = 0; i < one.size(); ++i) CHECK(std::abs(one[i] - two[i]) <= 1e-9);
    for (int i = 0; i < 40; ++i) {
      const Point2 p{14 * random.uniform(draw++) - 1, 11 * random.uniform(draw++) - 1};
      const double here = plan.faces()[plan.face_of(p)].area_m2;
      CHECK(std::abs(here - again.faces()[again.face_of(turned(p))].area_m2) <= 1e-9);
      CHECK((here > 0) == (p.x > 0 && p.x < 12 && p.y > 0 && p.y < 9));
    }
  }
}
