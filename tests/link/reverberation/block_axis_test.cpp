#include "linkmargin/link/reverberation/block_axis.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <map>

using namespace linkmargin;

TEST_CASE("the nearest whole number of equal blocks") {
  CHECK(BlockAxis(4, 3).cuts().empty());
  CHECK(BlockAxis(1, 3).cuts().empty());
  CHECK(BlockAxis(0, 3).cuts().empty());
  const BlockAxis three(9.3, 3);
  REQUIRE(three.cuts().size() == 2);
  CHECK(three.cuts()[0].at_m == doctest::Approx(3.1));
  CHECK(three.cuts()[0].weight == 1);
  CHECK(three.interval(0) == 0);
  CHECK(three.interval(3.2) == 1);
  CHECK(three.interval(99) == 2);
  CHECK(three.reach() == 1);
}

TEST_CASE("half-way between two numbers both divisions are taken") {
  const BlockAxis both(7.5, 3);
  REQUIRE(both.cuts().size() == 3);  // at 1/3, 1/2 and 2/3
  for (const BlockAxis::Cut& cut : both.cuts()) CHECK(cut.weight == doctest::Approx(0.5));
  CHECK(both.cuts()[1].at_m == doctest::Approx(3.75));
  CHECK(BlockAxis(7.5 + 0.151, 3).cuts().size() == 2);
  CHECK(BlockAxis(7.5 - 0.151, 3).cuts().size() == 1);
}

TEST_CASE("what is read at a place changes steadily with the place and the length") {
  // A quantity that is v in the middle of each interval, as read at a place.
  const auto read = [](const BlockAxis& axis, double at_m) {
    double sum = 0, all = 0;
    for (const auto& [interval, weight] : axis.weights(at_m)) {
      CHECK(weight > 0);
      const auto i = static_cast<std::size_t>(interval);
      const double low = i == 0 ? 0 : axis.cuts()[i - 1].at_m;
      const double high = i < axis.cuts().size() ? axis.cuts()[i].at_m : axis.length_m();
      sum += weight * (low + high) / 2;
      all += weight;
    }
    CHECK(std::abs(all - 1) <= 1e-8);
    return sum;
  };
  double worst = 0;
  for (const double length_m : {2.0, 5.0, 7.4, 7.5, 7.6, 20.0}) {
    const BlockAxis axis(length_m, 3);
    double before = read(axis, 0);
    for (double at_m = 0.01; at_m <= length_m; at_m += 0.01) {
      const double now = read(axis, at_m);
      worst = std::max(worst, std::abs(now - before));
      before = now;
    }
  }
  CHECK(worst <= 0.0101);
  // From both ends alike.
  for (const double at_m : {0.3, 2.0, 3.1}) {
    const BlockAxis axis(7.5, 3);
    CHECK(read(axis, at_m) == doctest::Approx(7.5 - read(axis, 7.5 - at_m)));
  }
}
