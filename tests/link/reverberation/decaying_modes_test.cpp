#include "linkmargin/link/reverberation/decaying_modes.hpp"

#include "linkmargin/base/random.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

using namespace linkmargin;

TEST_CASE("the sum of decaying modes, term by term") {
  const RandomStream random(7, 0xDECA);
  std::uint64_t draw = 0;
  for (const std::size_t count : {0U, 1U, 7U, 8U, 255U, 257U, 1156U}) {
    std::vector<double> worth(count), one(count), other(count), rate(count);
    for (std::size_t i = 0; i < count; ++i) {
      worth[i] = random.uniform(draw++);
      one[i] = random.uniform(draw++) - 0.3;
      other[i] = random.uniform(draw++) - 0.3;
      rate[i] = random.uniform(draw++);
    }
    for (double distance_m = 0; distance_m < 3000; distance_m = 1.5 * distance_m + 0.1) {
      double sum = 0, size = 0;
      for (std::size_t i = 0; i < count; ++i) {
        const double term = worth[i] * one[i] * other[i] * std::exp(-distance_m * rate[i]);
        sum += term;
        size += std::abs(term);
      }
      CHECK(std::abs(decayed_sum(worth, one, other, rate, distance_m) - sum) <= 2e-14 * size);
    }
  }
}

TEST_CASE("a multiple of some numbers is added to others") {
  const std::vector<double> values{1, -2, 3, 4, 5};
  std::vector<double> sums{10, 20, 30, 40, 50};
  add_scaled(values, 0.5, sums);
  CHECK(sums == std::vector<double>{10.5, 19, 31.5, 42, 52.5});
}
