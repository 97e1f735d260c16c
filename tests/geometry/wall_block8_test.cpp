#include "linkmargin/geometry/wall_block8.hpp"

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
      wall_blocks[i / kBlockSize].set(i % kBlockSize, wall, origin);
      box_blocks[i / kBlockSize].set(i % kBlockSize, box, origin);
    }
    for (int i = 0; i < 2000; ++i) rays.push_back({point(), point()});
    for (const Segment2 wall : walls) rays.push_back({point(), wall.a});  // just to a corner
  }

  RandomStream stream;
  std::uint64_t draw = 0;
  Point2 origin{1, -2};
  std::vector<Segment2> walls, rays;
  std::vector<WallBlock8> wall_blocks{(kWalls + kBlockSize - 1) / kBlockSize};
  std::vector<BoxBlock8> box_blocks{wall_blocks.size()};
  std::vector<std::uint32_t> which = [] {
    std::vector<std::uint32_t> all((kWalls + kBlockSize - 1) / kBlockSize);
    for (std::uint32_t i = 0; i < all.size(); ++i) all[i] = i;
    return all;
  }();
};

template <typename Sieve, typename Eight>
std::vector<std::uint32_t> left_by(Sieve sieve_one, const std::vector<Eight>& blocks, const Sample& sample,
                                   Segment2 ray) {
  std::vector<std::uint32_t> left(kBlockSize * (sample.which.size() + 1));
  const auto all = std::span<const Eight>(blocks);
  left.resize(sieve_one(all, std::span<const std::uint32_t>(sample.which), BlockProbe(ray, sample.origin),
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
      const auto walls = left_by(any, sample.wall_blocks, sample, ray);
      const auto boxes = left_by(any, sample.box_blocks, sample, ray);
      REQUIRE(walls == left_by(wide, sample.wall_blocks, sample, ray));
      REQUIRE(boxes == left_by(wide, sample.box_blocks, sample, ray));
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
  std::vector<WallBlock8> blocks(3);
  for (std::uint32_t i = 0; i < 24; ++i)
    blocks[i / kBlockSize].set(i % kBlockSize, {{1.0 * i, -1}, {1.0 * i, 1}}, {});
  std::array<std::uint32_t, 24> left{};
  const std::array<std::uint32_t, 2> which{2, 0};
  const BlockProbe ray({{4.5, 0}, {17.5, 0}}, {});
  REQUIRE(sieve(blocks, which, ray, left.data()) == 5);
  CHECK(std::vector(left.begin(), left.begin() + 5) == std::vector<std::uint32_t>{16, 17, 5, 6, 7});
}
