#include "linkmargin/geometry/wall_eights.hpp"

#include "linkmargin/base/random.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <vector>

using namespace linkmargin;

namespace {

constexpr std::uint32_t kWalls = 203;  // the last eight has three

struct Sample {
  explicit Sample(double size_m) : stream(22, static_cast<std::uint64_t>(size_m)) {
    const auto point = [&] {
      const double x = size_m * (2 * stream.uniform(draw++) - 1);
      return snapped(Point2{x, size_m * (2 * stream.uniform(draw++) - 1)});
    };
    for (std::uint32_t i = 0; i < kWalls; ++i) {
      const Point2 a = point();
      const Segment2 wall{a, snapped(a + 0.1 * (point() - a))};
      const Box2 box{{std::min(wall.a.x, wall.b.x), std::min(wall.a.y, wall.b.y)},
                     {std::max(wall.a.x, wall.b.x), std::max(wall.a.y, wall.b.y)}};
      walls.push_back(wall);
      wall_eights[i / kEight].set(i % kEight, wall, origin);
      box_eights[i / kEight].set(i % kEight, box, origin);
    }
    for (int i = 0; i < 2000; ++i) rays.push_back({point(), point()});
    for (const Segment2 wall : walls) rays.push_back({point(), wall.a});  // just to a corner
  }

  RandomStream stream;
  std::uint64_t draw = 0;
  Point2 origin{1, -2};
  std::vector<Segment2> walls, rays;
  std::vector<WallEight> wall_eights{(kWalls + kEight - 1) / kEight};
  std::vector<BoxEight> box_eights{wall_eights.size()};
  std::vector<std::uint32_t> which = [] {
    std::vector<std::uint32_t> all((kWalls + kEight - 1) / kEight);
    for (std::uint32_t i = 0; i < all.size(); ++i) all[i] = i;
    return all;
  }();
};

template <typename Sieve, typename Eight>
std::vector<std::uint32_t> left_by(Sieve sieve_one, const std::vector<Eight>& eights, const Sample& sample,
                                   Segment2 ray) {
  std::vector<std::uint32_t> left(kEight * (sample.which.size() + 1));
  const auto all = std::span<const Eight>(eights);
  left.resize(sieve_one(all, std::span<const std::uint32_t>(sample.which), EightProbe(ray, sample.origin),
                        left.data()));
  return left;
}

}  // namespace

TEST_CASE("the sieve leaves every wall crossed and little else, with and without wide instructions") {
  const auto wide = [](auto... a) { return sieve(a...); };
  const auto any = [](auto... a) { return sieve_any(a...); };
  for (const double size_m : {2.0, 50.0, 4096.0}) {
    const Sample sample(size_m);
    std::size_t crossed = 0;
    std::size_t left = 0;
    for (const Segment2 ray : sample.rays) {
      const auto walls = left_by(any, sample.wall_eights, sample, ray);
      const auto boxes = left_by(any, sample.box_eights, sample, ray);
      REQUIRE(walls == left_by(wide, sample.wall_eights, sample, ray));
      REQUIRE(boxes == left_by(wide, sample.box_eights, sample, ray));
      REQUIRE(std::ranges::is_sorted(walls));
      REQUIRE((boxes.empty() || boxes.back() < kWalls));
      for (std::uint32_t i = 0; i < kWalls; ++i) {
        if (!crosses(ray, sample.walls[i])) continue;
        ++crossed;
        REQUIRE(std::ranges::binary_search(walls, i));
        REQUIRE(std::ranges::binary_search(boxes, i));
      }
      left += walls.size();
    }
    MESSAGE(size_m << " m: " << crossed << " crossed, " << left << " left");
    CHECK(crossed > 2000);
    CHECK(left < crossed + crossed / 4);
  }
}

TEST_CASE("the sieve looks only at the eights that it is told") {
  std::vector<WallEight> eights(3);
  for (std::uint32_t i = 0; i < 24; ++i)
    eights[i / kEight].set(i % kEight, {{1.0 * i, -1}, {1.0 * i, 1}}, {});
  std::array<std::uint32_t, 24> left{};
  const std::array<std::uint32_t, 2> which{2, 0};
  const EightProbe ray({{4.5, 0}, {17.5, 0}}, {});
  REQUIRE(sieve(eights, which, ray, left.data()) == 5);
  CHECK(std::vector(left.begin(), left.begin() + 5) == std::vector<std::uint32_t>{16, 17, 5, 6, 7});
}
