#include "linkmargin/geometry/point.hpp"

#include "linkmargin/base/random.hpp"
#include "linkmargin/geometry/segment.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;

TEST_CASE("snapping moves a coordinate by half a pitch at most, and only once") {
  const RandomStream stream(1, 1);
  for (std::uint64_t i = 0; i < 10'000; ++i) {
    const double x = kCoordinateM.min + (kCoordinateM.max - kCoordinateM.min) * stream.uniform(i);
    CHECK(std::abs(snapped(x) - x) <= kGridPitchM / 2);
    CHECK(snapped(snapped(x)) == snapped(x));
    CHECK(std::fmod(snapped(x), kGridPitchM) == 0);
  }
}

TEST_CASE("the side test is exact at the corners of the coordinate range") {
  // In units of the grid, as integers: the widest products that can occur.
  const RandomStream stream(2, 1);
  const auto steps = static_cast<std::int64_t>(kCoordinateM.max / kGridPitchM);
  std::uint64_t draw = 0;
  const auto coordinate = [&] {
    const std::uint64_t bits = stream.bits(draw++);
    const auto near_edge = static_cast<std::int64_t>(bits % 3);  // on or next to either end of the range
    return (bits & 64U) != 0 ? steps - near_edge : near_edge - steps;
  };
  for (int i = 0; i < 20'000; ++i) {
    const std::int64_t ax = coordinate(), ay = coordinate(), bx = coordinate(), by = coordinate();
    const std::int64_t cx = coordinate(), cy = coordinate();
    const std::int64_t exact = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
    const auto at = [](std::int64_t x, std::int64_t y) {
      return Point2{static_cast<double>(x) * kGridPitchM, static_cast<double>(y) * kGridPitchM};
    };
    const double found = side(at(ax, ay), at(bx, by), at(cx, cy)) / (kGridPitchM * kGridPitchM);
    CHECK(found == static_cast<double>(exact));
  }
}
