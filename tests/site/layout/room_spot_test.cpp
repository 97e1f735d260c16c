#include "linkmargin/site/layout/room_spot.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace linkmargin;
using namespace linkmargin::layout;

namespace {

const Polygon2 kRoom = rectangle({1, 2}, 4, 3);

void check_place(const char* text, double x, double y, const Inset& inset = {}) {
  CAPTURE(text);
  const auto spot = parse_room_spot(text);
  REQUIRE(spot);
  const auto place = place_of(*spot, kRoom, inset);
  REQUIRE(std::holds_alternative<Point2>(place));
  CHECK(std::abs(std::get<Point2>(place).x - x) < 1e-9);
  CHECK(std::abs(std::get<Point2>(place).y - y) < 1e-9);
}

}  // namespace

TEST_CASE("Places are read as people say them") {
  check_place("centre", 3, 3.5);
  check_place("corner top left", 1.1, 4.9);
  check_place("Corner right bottom", 4.9, 2.1);
  check_place("top left corner", 1.1, 4.9);
  check_place("bottom wall", 3, 2.1);
  check_place("the left wall", 1.1, 3.5);
  check_place("bottom wall, 1.2 m from left", 2.2, 2.1);
  check_place("bottom wall 1.2 m from the left wall", 2.2, 2.1);
  check_place("bottom wall, 1.2m from right", 3.8, 2.1);
  check_place("right wall, 0.5 m from top", 4.9, 4.5);
  check_place("0.4 m from left and 0.3 m from top", 1.4, 4.7);
  check_place("0.3 m from the top wall, 0.4 m from the left wall", 1.4, 4.7);
}

TEST_CASE("Measured inside, distances count from the plaster and things hang in front of it") {
  const Inset inset{0.2, 0.05, 0.2, 0.05};
  check_place("corner bottom left", 1.22, 2.22, inset);
  check_place("bottom wall, 1 m from left", 2.2, 2.22, inset);
  check_place("0.4 m from left and 0.3 m from top", 1.6, 4.65, inset);
}

TEST_CASE("What is no place is not read") {
  for (const char* text :
       {"", "center", "corner", "corner top", "corner top bottom", "upper wall", "bottom wall, left",
        "bottom wall, 1.2 m from top", "bottom wall, 1.2 from left", "bottom wall, -1 m from left",
        "0.4 m from left", "0.4 m from left and 1 m from right", "centre left", "1,2 m from left",
        "bottom wall, 1.2 m from left, 3 m from right"}) {
    CAPTURE(text);
    CHECK_FALSE(parse_room_spot(text));
  }
}

TEST_CASE("What lies beyond the room says how long its wall is") {
  const auto far = place_of(*parse_room_spot("bottom wall, 4.5 m from left"), kRoom, {});
  REQUIRE(std::holds_alternative<std::string>(far));
  CHECK(std::get<std::string>(far) == "has a bottom wall of 4.00 m");
  const auto deep = place_of(*parse_room_spot("1 m from left and 3.5 m from top"), kRoom, {});
  CHECK(std::holds_alternative<std::string>(deep));
}

TEST_CASE("The wall on a side of a room with a notch is the one farthest out") {
  const Polygon2 notched{{0, 0}, {6, 0}, {6, 3}, {4, 3}, {4, 5}, {0, 5}};
  CHECK(wall_on(notched, Side::top) == Segment2{{0, 5}, {4, 5}});
  CHECK(wall_on(notched, Side::right) == Segment2{{6, 0}, {6, 3}});
  const Polygon2 turned(notched.rbegin(), notched.rend());
  CHECK(wall_on(turned, Side::top) == Segment2{{0, 5}, {4, 5}});
  CHECK_FALSE(wall_on({{0, 0}, {2, 0}, {1, 1}}, Side::top));
  const auto corner = place_of(*parse_room_spot("corner top right"), notched, {});
  CHECK(std::get<Point2>(corner) == Point2{6 - 0.1, 3 - 0.1});  // the first of two as near
}
