#include "linkmargin/link/building/box_index.hpp"

#include "linkmargin/base/random.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace linkmargin;

TEST_CASE("no box that a line meets is left out, and most of the others are") {
  const RandomStream random(3, 0x0B5);
  std::uint64_t draw = 0;
  const auto place = [&](double within_m) {
    return snapped(Point2{within_m * random.uniform(draw++), within_m * random.uniform(draw++)});
  };
  std::vector<Box2> boxes;
  for (int i = 0; i < 200; ++i) {
    const Point2 corner = place(100);
    boxes.push_back({corner, corner + Point2{1.5, 0.5}});
  }
  const BoxIndex index(boxes);
  std::vector<std::uint32_t> found;
  std::size_t given = 0;
  for (int i = 0; i < 2000; ++i) {
    const Point2 from = place(100);
    const Segment2 ray{from, i % 5 == 0 ? from : place(100)};
    index.near(ray, found);
    given += found.size();
    CHECK(std::ranges::is_sorted(found));
    for (std::uint32_t k = 0; k < boxes.size(); ++k) {
      if (meets(ray, boxes[k])) CHECK(std::ranges::binary_search(found, k));
    }
  }
  CHECK(given < 2000 * 200 / 10);
}

TEST_CASE("a line that leaves the sheet is told of all boxes") {
  const std::vector<Box2> boxes(9, Box2{{0, 0}, {1, 1}});
  std::vector<std::uint32_t> found;
  BoxIndex(boxes).near({{0, 0}, {9000, 0}}, found);
  CHECK(found.size() == 9);
  BoxIndex().near({{0, 0}, {1, 0}}, found);
  CHECK(found.empty());
}
