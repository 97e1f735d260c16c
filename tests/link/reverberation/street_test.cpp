#include "linkmargin/link/reverberation/street.hpp"

#include "linkmargin/base/range.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace linkmargin;

TEST_CASE("a street of 60 by 20 by 11 m, by hand") {
  // Walls and ground 60 (20 + 22) = 2520 m2, sky and ends 20 (60 + 22) = 1640 m2; walls and ground reflect
  // 0.2.
  const double lost_m2 = (2520 * 0.8 + 1640) / 4;
  CHECK(std::abs(lost_m2 - 914) <= 1e-9);
  CHECK(std::abs(Street{20, 60, 11}.flux_per_watt() - 0.2 * 2520 / 4160 / 914) <= 1e-12);
}

TEST_CASE("a wider street brings less, and one without a size is none") {
  double before = 1;
  for (double width_m = 5; width_m < 300; width_m *= 2) {
    const double flux = Street{width_m, 20 + 2 * width_m, 8}.flux_per_watt();
    CHECK(flux < before);
    before = flux;
  }
  CHECK_THROWS_AS((Street{0, 60, 11}.flux_per_watt()), DomainError);
  CHECK_THROWS_AS((Street{20, 60, 0}.flux_per_watt()), DomainError);
}

TEST_CASE("fronts share a street by the ways they face") {
  const auto facing = [](double degrees) {
    const double angle = degrees * 3.14159265358979 / 180;
    return front_shares({std::cos(angle), std::sin(angle)});
  };
  for (const double turn : {0.0, 33.0, 210.0}) {
    CHECK(std::abs(facing(turn).dot(facing(turn)) - 1) <= 1e-12);
    CHECK(std::abs(facing(turn).dot(facing(turn + 90)) - 0.25) <= 1e-12);
    CHECK(std::abs(facing(turn).dot(facing(turn + 180))) <= 1e-12);
    for (double angle = 0; angle < 360; angle += 7) CHECK(facing(turn).dot(facing(turn + angle)) >= -1e-12);
  }
}
