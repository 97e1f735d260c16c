#include "linkmargin/site/room_wall.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace linkmargin;

namespace {

Room room_of(Polygon2 corners) {
  Room room;
  room.name = "room";
  room.corners = std::move(corners);
  return room;
}

/// x 0..4, y 0..3, without its upper right quarter: two walls look to the right and two to the top.
Room angled() {
  return room_of({{0, 0}, {4, 0}, {4, 1.5}, {2, 1.5}, {2, 3}, {0, 3}});
}

}  // namespace

TEST_CASE("a rectangle has one wall a side, whichever way round its corners go") {
  for (const Room& room : {room_of(rectangle({1, 2}, 4, 3)), room_of({{1, 5}, {5, 5}, {5, 2}, {1, 2}})}) {
    for (const SheetSide side : {SheetSide::left, SheetSide::right, SheetSide::top, SheetSide::bottom})
      CHECK(room_walls(room, side).size() == 1);
    CHECK(socket_at(room, WallSpot{SheetSide::left, SheetSide::bottom, 0.4}) == snapped(Point2{1, 2.4}));
    CHECK(socket_at(room, WallSpot{SheetSide::left, SheetSide::top, 0.4}) == snapped(Point2{1, 4.6}));
    CHECK(socket_at(room, WallSpot{SheetSide::top, SheetSide::right, 1}) == Point2{4, 5});
    CHECK_FALSE(socket_at(room, WallSpot{SheetSide::top, SheetSide::right, 4.1}));
    CHECK_FALSE(socket_at(room, WallSpot{SheetSide::top, SheetSide::bottom, 1}));
  }
}

TEST_CASE("a corner on a straight wall parts it not, and two walls of one side are no one wall") {
  CHECK(room_walls(room_of({{0, 0}, {2, 0}, {4, 0}, {4, 3}, {0, 3}}), SheetSide::bottom).size() == 1);
  CHECK(room_walls(room_of({{2, 0}, {4, 0}, {4, 3}, {0, 3}, {0, 0}}), SheetSide::bottom).size() == 1);
  CHECK(room_walls(angled(), SheetSide::right).size() == 2);
  CHECK_FALSE(socket_at(angled(), WallSpot{SheetSide::right, SheetSide::bottom, 0.5}));
  CHECK(socket_at(angled(), Point2{4, 1}) == Point2{4, 1});
}

TEST_CASE("a place is named by its nearest wall and the nearer end of that") {
  const auto near = nearest_wall_spot(room_of(rectangle({0, 0}, 4, 3)), {0.1, 2.2});
  REQUIRE(near);
  CHECK(near->spot.wall == SheetSide::left);
  CHECK(near->spot.from == SheetSide::top);
  CHECK(near->spot.distance_m == doctest::Approx(0.8));
  CHECK(near->off_m == doctest::Approx(0.1));
  CHECK(near->only);
  CHECK_FALSE(nearest_wall_spot(angled(), {3.9, 0.5})->only);
}

TEST_CASE("what a name says of a place leads back to it") {
  const Room room = room_of(rectangle({-2, 1}, 5, 2.5));
  for (int i = 0; i < 60; ++i) {
    const Point2 on{-2 + 5.0 * (i % 10) / 10, i < 30 ? 1.0 : 3.5};
    const auto near = nearest_wall_spot(room, on);
    REQUIRE(near);
    const auto back = socket_at(room, near->spot);
    REQUIRE(back);
    CHECK(distance(*back, on) <= 2 * kGridPitchM);
  }
}

TEST_CASE("along the walls is round the corner, the shorter way") {
  const Room room = room_of(rectangle({0, 0}, 4, 3));
  CHECK(along_walls_m(room, {0, 0.5}, {0.5, 0}) == doctest::Approx(1));
  CHECK(along_walls_m(room, {0.1, 0.5}, {0.5, 0.1}) == doctest::Approx(1));
  CHECK(along_walls_m(room, {0, 2}, {0, 1}) == doctest::Approx(1));
  CHECK(along_walls_m(room, {2, 0}, {2, 3}) == doctest::Approx(7));
}
