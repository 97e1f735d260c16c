#include "linkmargin/site/layout/cell_union.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;
using layout::united;

TEST_CASE("Shapes that share an edge make one outline without joints in it") {
  const std::vector<Polygon2> shapes{rectangle({0, 0}, 4, 3), rectangle({4, 0}, 2, 3),
                                     rectangle({0, 3}, 2, 2)};
  CHECK(united(shapes) == Polygon2{{0, 0}, {6, 0}, {6, 3}, {2, 3}, {2, 5}, {0, 5}});
}

TEST_CASE("The area of a union is the sum of the areas") {
  const std::vector<Polygon2> shapes{rectangle({0, 0}, 1, 1), rectangle({1, 0.5}, 2, 1),
                                     rectangle({1, 1.5}, 0.5, 3)};
  const auto outline = united(shapes);
  REQUIRE(outline);
  CHECK(signed_area(*outline) == doctest::Approx(1 + 2 + 1.5));
}

TEST_CASE("Shapes apart, at a corner alone, round a court or aslant make none") {
  CHECK_FALSE(united(std::vector<Polygon2>{rectangle({0, 0}, 1, 1), rectangle({2, 0}, 1, 1)}));
  CHECK_FALSE(united(std::vector<Polygon2>{rectangle({0, 0}, 1, 1), rectangle({1, 1}, 1, 1)}));
  CHECK_FALSE(united(std::vector<Polygon2>{rectangle({0, 0}, 3, 1), rectangle({0, 1}, 1, 1),
                                           rectangle({2, 1}, 1, 1), rectangle({0, 2}, 3, 1)}));
  CHECK_FALSE(united(std::vector<Polygon2>{{{0, 0}, {2, 0}, {1, 1}}}));
  CHECK_FALSE(united(std::vector<Polygon2>{}));
}
