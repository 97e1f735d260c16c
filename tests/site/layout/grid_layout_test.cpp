#include "linkmargin/site/layout/grid_layout.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;
using namespace linkmargin::layout;

TEST_CASE("Rows of a grid lie behind each other, and the cells of one room are one room") {
  const std::vector<GridRow> rows{
      {3.2, {{"living room", 4.2}, {"hall", 2.2}, {"study", 3.2}}},
      {1.8, {{"living room", 4.2}, {"hall", 2.2}, {"wc", 1.4}, {"utility", 1.8}}}};
  const GridLayout found = lay_out_grid(rows, {});
  REQUIRE(found.rooms.size() == 5);
  CHECK(found.closed.empty());
  CHECK(found.rooms[0].name == "living room");
  CHECK(found.rooms[0].corners.size() == 4);
  CHECK(signed_area(found.rooms[0].corners) == doctest::Approx(4.2 * 5).epsilon(0.001));
  CHECK(found.rooms[3].name == "wc");
  CHECK(found.rooms[3].corners.front() == snapped(Point2{6.4, 3.2}));
  CHECK(found.rooms[3].row == 1);
}

TEST_CASE("A cell of the outside takes place and is no room") {
  const std::vector<GridRow> rows{{2, {{"outside", 3}, {"porch", 2}}}, {4, {{"shop", 5}}}};
  const GridLayout found = lay_out_grid(rows, {});
  REQUIRE(found.rooms.size() == 2);
  CHECK(found.rooms[0].corners.front() == Point2{3, 0});
}

TEST_CASE("Ends of rows that differ by centimetres are closed and told") {
  const std::vector<GridRow> rows{{3, {{"a", 4}, {"b", 2}}}, {3, {{"a", 4.03}, {"c", 2}}}};
  const GridLayout found = lay_out_grid(rows, {});
  REQUIRE(found.closed.size() == 1);
  CHECK(found.closed[0].room == "a");
  CHECK(found.closed[0].other == "b");
  CHECK(found.closed[0].typed_m == 4.03);
  CHECK(found.closed[0].used_m == doctest::Approx(4));
  CHECK(found.rooms[0].corners.size() == 4);
}

TEST_CASE("Cells of one room that do not touch have no outline") {
  const std::vector<GridRow> rows{{2, {{"a", 1}, {"b", 3}}}, {2, {{"b", 2}, {"c", 1}, {"a", 1}}}};
  const GridLayout found = lay_out_grid(rows, {});
  CHECK(found.rooms[0].name == "a");
  CHECK(found.rooms[0].corners.empty());
}

TEST_CASE("Measured inside, a room of a grid counts with walls of its own") {
  const std::vector<GridRow> rows{{4, {{"a", 3}, {"garage", 3}}}};
  MeasuredInside walls{0.3, 0.1};
  walls.own["garage"] = {0.2, 0.2};
  const GridLayout found = lay_out_grid(rows, walls);
  CHECK(bounding_box(found.rooms[0].corners).max.x == doctest::Approx(3 + 0.15 + 0.1).epsilon(0.001));
  CHECK(bounding_box(found.rooms[1].corners).max.x == doctest::Approx(3.25 + 3 + 0.2).epsilon(0.001));
}

TEST_CASE("Measured inside, walls are added between rooms and to the outside") {
  const std::vector<GridRow> rows{{4, {{"a", 3}, {"b", 2}}}, {2, {{"c", 5.1}}}};
  const GridLayout found = lay_out_grid(rows, MeasuredInside{0.3, 0.1});
  CHECK(found.closed.empty());
  CHECK(bounding_box(found.rooms[1].corners).max.x == doctest::Approx(5.4).epsilon(0.001));
  CHECK(bounding_box(found.rooms[2].corners).max.x == doctest::Approx(5.4).epsilon(0.001));
  CHECK(bounding_box(found.rooms[2].corners).max.y == doctest::Approx(6.4).epsilon(0.001));
}
