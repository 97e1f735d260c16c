#include "linkmargin/geometry/box.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;

TEST_CASE("a box of nothing is empty, and grows as far as what it takes") {
  Box2 box = Box2::nothing();
  CHECK(box.empty());
  box.take(Point2{-5000, 3});  // beyond any coordinate limit too
  CHECK(!box.empty());
  CHECK(box.min == Point2{-5000, 3});
  CHECK(box.max == Point2{-5000, 3});
  box.take(Point2{1, 2});
  CHECK(box.min == Point2{-5000, 2});
  CHECK(box.max == Point2{1, 3});
  box.take(Point2{0, 2.5});  // inside: nothing changes
  CHECK(box.min == Point2{-5000, 2});
  CHECK(box.max == Point2{1, 3});
}

TEST_CASE("a box takes a box whole, and nothing from one of nothing") {
  Box2 box{{0, 0}, {1, 1}};
  box.take(Box2{{-1, 0.5}, {0.5, 4}});
  CHECK(box.min == Point2{-1, 0});
  CHECK(box.max == Point2{1, 4});
  box.take(Box2::nothing());
  CHECK(box.min == Point2{-1, 0});
  CHECK(box.max == Point2{1, 4});
}
