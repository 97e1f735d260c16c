#include "linkmargin/site/layout/opening_frame.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace linkmargin;
using namespace linkmargin::layout;

namespace {

Opening door(Point2 at, double width_m) {
  Opening opening;
  opening.name = "door";
  opening.at = at;
  opening.width_m = width_m;
  return opening;
}

bool near(const std::variant<Point2, std::string>& place, double x, double y) {
  const auto* at = std::get_if<Point2>(&place);
  return at != nullptr && std::abs(at->x - x) < 1e-9 && std::abs(at->y - y) < 1e-9;
}

}  // namespace

TEST_CASE("A contact hangs on the frame, on the lock side, inside the room") {
  const Polygon2 room = rectangle({0, 0}, 6, 5);
  const Segment2 wall{{6, 0}, {0, 0}};  // in either direction
  CHECK(near(frame_place({.opening = door({1, 0}, 1), .wall = wall, .room = room}), 1.53, 0.1));
  CHECK(near(frame_place({.opening = door({5, 0}, 1), .wall = wall, .room = room}), 4.47, 0.1));
  CHECK(near(frame_place({.opening = door({3, 0}, 1), .wall = wall, .room = room}), 3.53, 0.1));
  CHECK(near(frame_place({.opening = door({3, 0}, 1), .wall = wall, .room = room, .side = Side::left}), 2.47,
             0.1));
  CHECK(near(frame_place({.opening = door({3, 0}, 1), .wall = wall, .room = room, .beyond = true}), 3.53,
             -0.1));
}

TEST_CASE("Outside it hangs before the outer face of the wall, however thick") {
  const Polygon2 room = rectangle({0, 0}, 6, 5);
  const Segment2 wall{{0, 0}, {6, 0}};
  const Inset inset{0.15, 0.15, 0.15, 0.15};
  const auto at = [&](double wall_m, bool beyond) {
    return frame_place({.opening = door({3, 0}, 1),
                        .wall = wall,
                        .room = room,
                        .beyond = beyond,
                        .inset = inset,
                        .wall_m = wall_m});
  };
  CHECK(near(at(0.3, true), 3.53, -0.17));
  CHECK(near(at(0.5, true), 3.53, -0.27));
  CHECK(near(at(0.1, true), 3.53, -0.1));
  CHECK(near(at(0.3, false), 3.53, 0.17));
}

TEST_CASE("Over an opening it hangs over its middle") {
  const Polygon2 room = rectangle({0, 0}, 6, 5);
  CHECK(near(frame_place({.opening = door({1, 0}, 1), .wall = {{0, 0}, {6, 0}}, .room = room, .over = true}),
             1, 0.1));
}

TEST_CASE("On an upright wall the sides are bottom and top") {
  const Polygon2 room = rectangle({0, 0}, 6, 5);
  const Segment2 wall{{6, 0}, {6, 5}};
  CHECK(near(frame_place({.opening = door({6, 1}, 1), .wall = wall, .room = room}), 5.9, 1.53));
  CHECK(near(frame_place({.opening = door({6, 1}, 1), .wall = wall, .room = room, .side = Side::bottom}), 5.9,
             0.47));
  const auto wrong =
      frame_place({.opening = door({6, 1}, 1), .wall = wall, .room = room, .side = Side::left});
  REQUIRE(std::holds_alternative<std::string>(wrong));
  CHECK(std::get<std::string>(wrong) == "'door' is in a wall along y: it has a bottom and a top side");
}

TEST_CASE("A frame at the very end of its wall stays on the wall") {
  const Polygon2 room = rectangle({0, 0}, 1, 5);
  CHECK(near(frame_place({.opening = door({0.5, 0}, 1), .wall = {{0, 0}, {1, 0}}, .room = room}), 0.97, 0.1));
}
