#include "linkmargin/propagation/fading/draw.hpp"

#include "linkmargin/propagation/fading/fading.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

using namespace linkmargin;

namespace {

constexpr std::uint64_t kDrawn = 20'000;

/// Under this the largest gap between an empirical and the true distribution stays with a chance of 0.999
/// (Kolmogorov 1933: 1.949 / sqrt(n) for large n, the asymptotic quantile).
const double kGap = 1.949 / std::sqrt(static_cast<double>(kDrawn));

template <typename Cdf>
double largest_gap(std::vector<double> values, Cdf cdf) {
  std::ranges::sort(values);
  const auto count = static_cast<double>(values.size());
  double gap = 0;
  for (std::size_t i = 0; i < values.size(); ++i) {
    const double below = cdf(values[i]);
    gap = std::max({gap, below - static_cast<double>(i) / count, static_cast<double>(i + 1) / count - below});
  }
  return gap;
}

double below_normal(double x) {
  return std::erfc(-x / std::sqrt(2.0)) / 2;
}

}  // namespace

TEST_CASE("normal numbers: Kolmogorov-Smirnov of either and of their sum and difference") {
  const RandomStream stream(7, named_stream("a wall"));
  std::vector<double> first, second, sum, difference;
  for (std::uint64_t draw = 0; draw < kDrawn; ++draw) {
    const NormalPair pair = normal_pair(stream, draw);
    first.push_back(pair.first);
    second.push_back(pair.second);
    sum.push_back((pair.first + pair.second) / std::sqrt(2.0));
    difference.push_back((pair.first - pair.second) / std::sqrt(2.0));
  }
  for (const auto& values : {first, second, sum, difference}) CHECK(largest_gap(values, below_normal) < kGap);
}

TEST_CASE("a test that can fail: a normal number a twentieth too wide is seen") {
  const RandomStream stream(7, named_stream("a wall"));
  std::vector<double> wide;
  for (std::uint64_t draw = 0; draw < kDrawn; ++draw)
    wide.push_back(1.05 * normal_pair(stream, draw).first + 0.02);
  CHECK(largest_gap(wide, below_normal) > kGap);
}

TEST_CASE("levels fade by the law of Rice, for any K") {
  for (const double k_db : {-std::numeric_limits<double>::infinity(), 0.0, 2.0, 7.0, 20.0}) {
    CAPTURE(k_db);
    const RandomStream stream(11, named_stream("a spot"));
    std::vector<double> levels;
    for (std::uint64_t draw = 0; draw < kDrawn; ++draw)
      levels.push_back(rician_draw_db(rician_k_ratio(k_db), stream, draw));
    CHECK(largest_gap(levels, [&](double level_db) { return rician_cdf(k_db, level_db); }) < kGap);
  }
}

TEST_CASE("streams of different names have nothing in common") {
  const RandomStream one(7, named_stream("wall between shop and hall"));
  const RandomStream other(7, named_stream("wall between shop and hall "));
  double product = 0;
  for (std::uint64_t draw = 0; draw < kDrawn; ++draw)
    product += normal_pair(one, draw).first * normal_pair(other, draw).first;
  CHECK(std::abs(product / static_cast<double>(kDrawn)) < 4 / std::sqrt(static_cast<double>(kDrawn)));
}

TEST_CASE("a name's stream is the published hash of its bytes") {
  CHECK(named_stream("") == 0xcbf29ce484222325ULL);  // test vectors of FNV-1a, 64 bit
  CHECK(named_stream("a") == 0xaf63dc4c8601ec8cULL);
  CHECK(named_stream("foobar") == 0x85944171f73967e8ULL);
}
