#include "linkmargin/geometry/welded_points.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;

TEST_CASE("a point nearly on a known one is that one, the nearest of several") {
  WeldedPoints points(0.01);
  CHECK(points.weld({1, 1}) == 0);
  CHECK(points.weld({1.015, 1}) == 1);
  CHECK(points.weld({1.006, 1}) == 0);
  CHECK(points.weld({1.009, 1}) == 1);
  CHECK(points.weld({0.9925, 0.9925}) == 2);  // 1.06 cm away
  CHECK(points.weld({-3, -3.0099}) == 3);
  CHECK(points.weld({-3, -3}) == 3);
  CHECK(points.size() == 4);
  CHECK(points.at(3) == Point2{-3, -3.0099});
}
