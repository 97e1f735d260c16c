#include "linkmargin/base/random.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <set>

using namespace linkmargin;

TEST_CASE("draws are a pure function of seed, stream and index") {
  constexpr RandomStream stream(7, 1);
  static_assert(stream.bits(5) == RandomStream(7, 1).bits(5));
  const RandomStream again(7, 1);
  for (std::uint64_t i = 1000; i-- > 0;) CHECK(stream.bits(i) == again.bits(i));
}

TEST_CASE("seeds, streams and indices give different draws") {
  std::set<std::uint64_t> seen;
  for (std::uint64_t seed = 0; seed < 20; ++seed) {
    for (std::uint64_t stream = 0; stream < 20; ++stream) {
      for (std::uint64_t index = 0; index < 50; ++index) seen.insert(RandomStream(seed, stream).bits(index));
    }
  }
  CHECK(seen.size() == 20 * 20 * 50);  // of 2^64: one repeat in 1e11 runs by chance
}

TEST_CASE("uniform draws lie in [0, 1), with the mean, variance and evenness of chance") {
  const RandomStream stream(7, 3);
  constexpr int count = 1'000'000;
  double sum = 0, square = 0;
  std::array<int, 16> bins{};
  for (std::uint64_t i = 0; i < count; ++i) {
    const double u = stream.uniform(i);
    REQUIRE(u >= 0);
    REQUIRE(u < 1);
    sum += u;
    square += u * u;
    ++bins[static_cast<std::size_t>(u * 16)];
  }
  // Five standard deviations of the mean of uniform draws: 5 / sqrt(12 n).
  CHECK(std::abs(sum / count - 0.5) <= 5 / std::sqrt(12.0 * count));
  CHECK(std::abs(square / count - 1.0 / 3) <= 0.002);
  double chi_square = 0;
  for (const int bin : bins) chi_square += std::pow(bin - count / 16.0, 2) / (count / 16.0);
  CHECK(chi_square < 37.7);  // 99.9 % point of the chi-square distribution with 15 degrees of freedom
  CHECK(chi_square > 3.48);  // its 0.1 % point: not more even than chance
}

TEST_CASE("neighbouring streams are not correlated") {
  const RandomStream left(7, 1);
  const RandomStream right(7, 2);
  constexpr int count = 200'000;
  double product = 0;
  for (std::uint64_t i = 0; i < count; ++i) product += (left.uniform(i) - 0.5) * (right.uniform(i) - 0.5);
  CHECK(std::abs(product / count * 12) <= 5 / std::sqrt(static_cast<double>(count)));
}
