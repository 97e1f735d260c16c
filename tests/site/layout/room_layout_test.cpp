#include "linkmargin/site/layout/room_layout.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>

using namespace linkmargin;
using namespace linkmargin::layout;

namespace {

SizedRoom sized(std::string name, double width_m, double depth_m, std::vector<Neighbour> neighbours = {}) {
  SizedRoom room;
  room.name = std::move(name);
  room.size = Point2{width_m, depth_m};
  room.neighbours = std::move(neighbours);
  return room;
}

Polygon2 box(double x, double y, double width_m, double depth_m) {
  Polygon2 corners = rectangle({x, y}, width_m, depth_m);
  for (Point2& corner : corners) corner = snapped(corner);
  return corners;
}

RoomLayout alone(const std::vector<SizedRoom>& rooms) {
  return lay_out(rooms, {});
}

}  // namespace

TEST_CASE("Rooms stand on the side of their neighbour, level with its lower or left edge") {
  const std::vector<SizedRoom> rooms{sized("hall", 2, 5), sized("shop", 6, 4, {{Relation::left_of, "hall"}}),
                                     sized("store", 3, 4, {{Relation::right_of, "hall"}}),
                                     sized("kitchen", 4, 3.2, {{Relation::above, "hall"}}),
                                     sized("porch", 2, 1, {{Relation::below, "hall"}})};
  const RoomLayout found = alone(rooms);
  CHECK(found.faults.empty());
  CHECK(found.closed.empty());
  CHECK(found.corners[0] == box(0, 0, 2, 5));
  CHECK(found.corners[1] == box(-6, 0, 6, 4));
  CHECK(found.corners[2] == box(2, 0, 3, 4));
  CHECK(found.corners[3] == box(0, 5, 4, 3.2));
  CHECK(found.corners[4] == box(0, -1, 2, 1));
}

TEST_CASE("The order in which rooms are typed does not matter, but for which is the first") {
  const std::vector<SizedRoom> rooms{sized("c", 3, 4, {{Relation::right_of, "b"}}),
                                     sized("b", 2, 4, {{Relation::right_of, "a"}}), sized("a", 2, 5)};
  const RoomLayout found = alone(rooms);
  CHECK(found.faults.empty());
  CHECK(found.corners[0] == box(4, 0, 3, 4));
}

TEST_CASE("Flush, shift, gap and front") {
  SizedRoom top = sized("top", 3, 2, {{Relation::right_of, "hall"}});
  top.flush_y = Side::top;
  SizedRoom right = sized("right", 1, 2, {{Relation::above, "hall"}});
  right.flush_x = Side::right;
  right.shift_m = -0.25;
  SizedRoom garage = sized("garage", 5, 6.5, {{Relation::left_of, "hall"}});
  garage.gap_m = 6.4;
  garage.front_m = -2;
  const RoomLayout found = alone({sized("hall", 2, 5), top, right, garage});
  CHECK(found.faults.empty());
  CHECK(found.corners[1] == box(2, 3, 3, 2));
  CHECK(found.corners[2] == box(0.75, 5, 1, 2));
  CHECK(found.corners[3] == box(-11.4, -2, 5, 6.5));
}

TEST_CASE("The house is all rooms that do not stand by it") {
  SizedRoom shed = sized("shed", 2, 2, {{Relation::right_of, "house"}});
  const RoomLayout found =
      alone({shed, sized("hall", 2, 5), sized("shop", 6, 4, {{Relation::right_of, "hall"}})});
  CHECK(found.faults.empty());
  CHECK(found.corners[0] == box(8, 0, 2, 2));
}

TEST_CASE("Rooms over others take their place, and without a size their shape") {
  const std::vector<Room> beneath{{.name = "shop", .corners = box(0, 0, 6, 5)},
                                  {.name = "hall", .corners = box(6, 0, 2, 4)}};
  SizedRoom loft;
  loft.name = "loft";
  loft.over = {"shop", "hall"};
  SizedRoom bath = sized("bath", 3, 2);
  bath.over = {"shop"};
  bath.flush_x = Side::right;
  bath.flush_y = Side::top;
  SizedRoom landing;
  landing.name = "landing";
  landing.over = {"hall"};
  const std::vector<SizedRoom> rooms{loft, bath, landing};
  const RoomLayout found = lay_out(rooms, {.known = {}, .beneath = beneath});
  CHECK(found.faults.empty());
  CHECK(found.corners[0] == Polygon2{{0, 0}, {8, 0}, {8, 4}, {6, 4}, {6, 5}, {0, 5}});
  CHECK(found.corners[1] == box(3, 3, 3, 2));
  CHECK(found.corners[2] == box(6, 0, 2, 4));
}

TEST_CASE("A slip of measuring is closed and told with both figures; a jog that is meant stays") {
  const auto workshop_of = [](double width_m) {
    return alone({sized("shop", 6, 5), sized("hall", 2, 5, {{Relation::right_of, "shop"}}),
                  sized("workshop", width_m, 4, {{Relation::above, "shop"}})});
  };
  const RoomLayout slip = workshop_of(8.02);
  CHECK(slip.corners[2] == box(0, 5, 8, 4));
  REQUIRE(slip.closed.size() == 1);
  CHECK(slip.closed[0].room == "workshop");
  CHECK(slip.closed[0].other == "hall");
  CHECK(slip.closed[0].is_width);
  CHECK(slip.closed[0].typed_m == 8.02);
  CHECK(std::abs(slip.closed[0].used_m - 8) < 1e-9);
  const RoomLayout jog = workshop_of(8.06);
  CHECK(jog.closed.empty());
  CHECK(jog.corners[2] == box(0, 5, 8.06, 4));
  const RoomLayout rounding = workshop_of(8.008);  // less than the width of a weld
  CHECK(rounding.closed.empty());
  CHECK(rounding.corners[2] == box(0, 5, 8, 4));
}

TEST_CASE("A gap under the thickness of a wall closes where rooms face each other") {
  const std::vector<Room> known{{.name = "store", .corners = box(8.2, 0, 3, 5)}};
  const std::vector<Room> shop{{.name = "shop", .corners = box(0, 0, 6, 5)}, known[0]};
  const std::vector<SizedRoom> rooms{sized("hall", 2, 5, {{Relation::right_of, "shop"}})};
  const RoomLayout thin = lay_out(rooms, {.known = shop, .beneath = {}, .wall_m = 0.1});
  CHECK(thin.corners[0] == box(6, 0, 2, 5));
  const RoomLayout thick = lay_out(rooms, {.known = shop, .beneath = {}, .wall_m = 0.24});
  CHECK(thick.corners[0] == box(6, 0, 2.2, 5));
  CHECK(thick.closed.size() == 1);
}

TEST_CASE("A room between two others fits, is closed, or contradicts them by both figures") {
  const auto between = [](double width_m) {
    const std::vector<Room> known{{.name = "shop", .corners = box(0, 0, 6, 5)},
                                  {.name = "store", .corners = box(8, 0, 3, 5)}};
    const std::vector<SizedRoom> rooms{
        sized("hall", width_m, 5, {{Relation::right_of, "shop"}, {Relation::left_of, "store"}})};
    return lay_out(rooms, {.known = known, .beneath = {}});
  };
  CHECK(between(2).closed.empty());
  CHECK(between(2.03).closed.size() == 1);
  CHECK(between(2.03).corners[0] == box(6, 0, 2, 5));
  const RoomLayout wrong = between(2.35);
  REQUIRE(wrong.faults.size() == 1);
  CHECK(wrong.faults[0].message ==
        "'hall' is 2.35 m wide, but 2.00 m lie between 'shop' (right_of) and 'store' (left_of)");
  CHECK(wrong.faults[0].at.key == "size_m");
  REQUIRE(wrong.faults[0].other);
  CHECK(wrong.faults[0].other->key == "left_of");
  CHECK(wrong.corners[0].empty());
}

TEST_CASE("Rings, a room by itself, unknown neighbours and a second room without a place are faults") {
  const RoomLayout ring =
      alone({sized("hall", 2, 5), sized("a", 1, 1, {{Relation::left_of, "b"}}),
             sized("b", 1, 1, {{Relation::above, "a"}}), sized("waits", 1, 1, {{Relation::above, "b"}})});
  REQUIRE(ring.faults.size() == 1);
  CHECK(
      ring.faults[0].message ==
      "these rooms stand by each other in a ring, so none has a place: 'a' is left_of 'b', 'b' is above 'a'");
  CHECK_FALSE(ring.corners[0].empty());
  CHECK(ring.corners[3].empty());
  const RoomLayout others =
      alone({sized("hall", 2, 5), sized("self", 1, 1, {{Relation::right_of, "self"}}),
             sized("lost", 1, 1, {{Relation::right_of, "hal"}}), sized("second", 1, 1)});
  REQUIRE(others.faults.size() == 3);
  CHECK(others.faults[0].message == "'self' is right_of itself");
  CHECK(others.faults[1].message == "unknown room 'hal'");
  CHECK(others.faults[1].hint == "did you mean 'hall'?");
  CHECK(others.faults[2].message == "room 'second' has no place: it is beside no other room");
}

TEST_CASE("Rooms measured inside get their walls added") {
  const std::vector<SizedRoom> rooms{sized("shop", 6, 5), sized("hall", 2, 5, {{Relation::right_of, "shop"}}),
                                     sized("workshop", 8.1, 4, {{Relation::above, "shop"}})};
  const RoomLayout found =
      lay_out(rooms, {.known = {}, .beneath = {}, .wall_m = 0.1, .inside = MeasuredInside{0.3, 0.1}});
  CHECK(found.faults.empty());
  CHECK(found.closed.empty());
  CHECK(found.corners[0] == box(0, 0, 6.2, 5.2));
  CHECK(found.corners[1] == box(6.2, 0, 2.2, 5.2));
  CHECK(found.corners[2] == box(0, 5.2, 8.4, 4.2));
  CHECK(found.insets[0] == Inset{0.15, 0.05, 0.15, 0.05});
}

TEST_CASE("A wall that is partly an outer one is drawn on the line of its inner part") {
  // Behind the shop stands a store that is narrower: the rest of the shop's back wall looks out.
  const std::vector<SizedRoom> rooms{sized("hall", 2, 5), sized("shop", 6, 5, {{Relation::right_of, "hall"}}),
                                     sized("kitchen", 2, 3, {{Relation::above, "hall"}}),
                                     sized("store", 2.4, 3, {{Relation::right_of, "kitchen"}})};
  const RoomLayout found =
      lay_out(rooms, {.known = {}, .beneath = {}, .wall_m = 0.1, .inside = MeasuredInside{0.3, 0.1}});
  CHECK(found.faults.empty());
  CHECK(found.closed.empty());
  CHECK(found.corners[1] == box(2.2, 0, 6.2, 5.2));  // as deep as the hall
  CHECK(found.insets[1].top_m == 0.05);
  CHECK(bounding_box(found.corners[3]).min.y == bounding_box(found.corners[1]).max.y);
}

TEST_CASE("Rooms share an inner wall however thick the outer ones are") {
  // The box room fills what is left between the bathroom, level with the top, and the landing.
  for (const double outer_m : {0.2, 0.3, 0.45, 0.5, 0.8}) {
    CAPTURE(outer_m);
    SizedRoom bathroom = sized("bathroom", 2.3, 2.1);
    bathroom.over = {"dining corner"};
    bathroom.flush_y = Side::top;
    const std::vector<SizedRoom> rooms{sized("landing", 2.3, 4.1, {}), bathroom,
                                       sized("box room", 2.3, 1.08, {{Relation::below, "bathroom"}})};
    const double half_m = outer_m / 2;
    const Room beneath{.name = "dining corner", .corners = box(0, 4.16 + half_m, 2.3, 3.36 + half_m)};
    const RoomLayout found =
        lay_out(rooms, {.known = {}, .beneath = {&beneath, 1}, .inside = MeasuredInside{outer_m, 0.12}});
    CHECK(found.faults.empty());
    CHECK(bounding_box(found.corners[2]).min.y == bounding_box(found.corners[0]).max.y);
    CHECK(found.insets[2].bottom_m == 0.06);
    CHECK(found.insets[0].bottom_m == half_m);
  }
}

TEST_CASE(
    "Measured inside, a room with walls of its own counts with these, and what stands apart from faces") {
  SizedRoom garage = sized("garage", 3, 5.8, {{Relation::right_of, "house"}});
  garage.gap_m = 2.4;
  garage.apart = true;
  garage.front_m = 1.5;
  MeasuredInside walls{0.3, 0.12};
  walls.own["garage"] = {0.2, 0.2};
  const auto laid = [&walls](const SizedRoom& room) {
    return lay_out(std::vector{sized("hall", 2, 5), room}, {.known = {}, .beneath = {}, .inside = walls});
  };
  // The hall's faces: 0.15 to 2.15 within, 0 - 0.15 and 2.3 + 0.15 without.
  const RoomLayout found = laid(garage);
  CHECK(found.faults.empty());
  CHECK(found.corners[1] == box(2.45 + 2.4 + 0.1, -0.15 + 1.5 + 0.1, 3.2, 6));
  CHECK(found.insets[1] == Inset{0.1, 0.1, 0.1, 0.1});
  garage.front_m.reset();
  garage.shift_m = 1.5;
  CHECK(laid(garage).corners[1] == found.corners[1]);
  // Beside the hall, a shift counts within: 1.20 m from one inner face to the other.
  SizedRoom wc = sized("wc", 1, 1.5, {{Relation::right_of, "hall"}});
  wc.shift_m = 1.2;
  walls.between_m[{"hall", "wc"}] = 0.24;
  const RoomLayout beside = laid(wc);
  CHECK(bounding_box(beside.corners[1]).min.y == doctest::Approx(0.15 + 1.2 - 0.15).epsilon(1e-3));
  CHECK(beside.insets[1] == Inset{0.12, 0.15, 0.15, 0.15});
  CHECK(beside.insets[0] == Inset{0.15, 0.12, 0.15, 0.15});
}

TEST_CASE("A shift over a room counts from its inner face, a flush edge lies on the line") {
  const Room hall{.name = "hall", .corners = box(0, 0, 2.3, 5.3)};
  const Inset beneath_inset{0.15, 0.15, 0.15, 0.15};
  SizedRoom landing = sized("landing", 2, 3);
  landing.over = {"hall"};
  landing.shift_over = Point2{0, 1};
  SizedRoom front = sized("front", 2, 0.94, {{Relation::below, "landing"}});
  const RoomLayout found = lay_out(std::vector{landing, front}, {.known = {},
                                                                 .beneath = {&hall, 1},
                                                                 .inside = MeasuredInside{0.3, 0.12},
                                                                 .beneath_insets = {&beneath_inset, 1}});
  CHECK(found.insets[0].bottom_m == 0.06);
  CHECK(bounding_box(found.corners[0]).min.y == doctest::Approx(0.15 + 1 - 0.06).epsilon(1e-3));
  CHECK(bounding_box(found.corners[0]).min.x == 0);
}

TEST_CASE("Any row of rooms keeps its sizes and its common walls") {
  std::mt19937 random(5);
  std::uniform_int_distribution<int> centimetres(50, 900);
  for (int trial = 0; trial < 200; ++trial) {
    std::vector<SizedRoom> rooms{sized("0", centimetres(random) / 100.0, centimetres(random) / 100.0)};
    for (int i = 1; i < 8; ++i) {
      rooms.push_back(sized(std::to_string(i), centimetres(random) / 100.0, centimetres(random) / 100.0,
                            {{i % 2 == 0 ? Relation::right_of : Relation::above, std::to_string(i - 1)}}));
    }
    const RoomLayout found = alone(rooms);
    REQUIRE(found.faults.empty());
    for (std::size_t i = 0; i < rooms.size(); ++i) {
      const Box2 b = bounding_box(found.corners[i]);
      CAPTURE(trial);
      CAPTURE(i);
      const bool closed = std::ranges::any_of(
          found.closed, [&](const ClosedSize& size) { return size.room == rooms[i].name; });
      if (closed) continue;
      CHECK(std::abs(b.max.x - b.min.x - rooms[i].size->x) <= 0.011);
      CHECK(std::abs(b.max.y - b.min.y - rooms[i].size->y) <= 0.011);
    }
  }
}
