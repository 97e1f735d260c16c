#include "linkmargin/geometry/overlap.hpp"

#include "linkmargin/base/random.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

using namespace linkmargin;

namespace {

double shared_m2(const Polygon2& outline, const std::vector<Polygon2>& others,
                 const std::vector<bool>& wanted) {
  std::vector<Outline> all;
  for (const Polygon2& other : others) all.push_back(Outline::of(other));
  double sum = 0;
  for_overlaps(Outline::of(outline), all, [&](const std::vector<bool>& inside, double area_m2) {
    if (inside == wanted) sum += area_m2;
  });
  return sum;
}

/// What a convex polygon, counter-clockwise, leaves of another: edge by edge (Sutherland and Hodgman).
double clipped_m2(Polygon2 subject, const Polygon2& convex) {
  for (const Segment2& edge : edges(convex)) {
    Polygon2 kept;
    for (const Segment2& run : edges(subject)) {
      const double a = side(edge.a, edge.b, run.a), b = side(edge.a, edge.b, run.b);
      if (a >= 0) kept.push_back(run.a);
      if ((a > 0 && b < 0) || (a < 0 && b > 0)) kept.push_back(at_fraction(run, a / (a - b)));
    }
    subject = kept;
  }
  return std::abs(signed_area(subject));
}

}  // namespace

TEST_CASE("pieces of a square under two others") {
  const Polygon2 square = rectangle({0, 0}, 4, 4);
  const std::vector<Polygon2> others{rectangle({2, -1}, 4, 3), rectangle({3, 1}, 2, 8)};
  CHECK(shared_m2(square, others, {true, true}) == 1);
  CHECK(shared_m2(square, others, {true, false}) == 3);
  CHECK(shared_m2(square, others, {false, true}) == 2);
  CHECK(shared_m2(square, others, {false, false}) == 10);
  CHECK(shared_m2(square, {rectangle({9, 9}, 1, 1)}, {false}) == 16);
  CHECK(shared_m2(square, {square}, {true}) == 16);
  CHECK(shared_m2(square, {rectangle({4, 0}, 4, 4)}, {true}) == 0);
}

TEST_CASE("areas agree with those clipped edge by edge, whichever way the sheet is turned, and add up") {
  const RandomStream random(5, 0x0EA);
  double worst = 0;
  for (std::uint64_t round = 0; round < 300; ++round) {
    const auto star = [&](std::uint64_t seed) {
      Polygon2 result;
      for (int i = 0; i < 7; ++i) {
        const double angle = 2 * 3.14159265358979 * (i + static_cast<double>(round) / 300) / 7;
        const double reach = 1 + 3 * random.uniform(100 * round + 10 * seed + static_cast<std::uint64_t>(i));
        result.push_back(
            snapped(Point2{static_cast<double>(seed) + reach * std::cos(angle), reach * std::sin(angle)}));
      }
      return result;
    };
    const Polygon2 one = star(0), other = star(1), third = star(2);
    const Polygon2 triangle{other[0], other[2], other[5]};
    worst = std::max(worst, std::abs(shared_m2(one, {triangle}, {true}) - clipped_m2(one, triangle)));
    double all = 0;
    for (const bool a : {false, true}) {
      for (const bool b : {false, true}) all += shared_m2(one, {other, third}, {a, b});
    }
    worst = std::max(worst, std::abs(all - std::abs(signed_area(one))));
  }
  CHECK(worst <= 1e-9);
}
