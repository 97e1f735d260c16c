#pragma once

#include "linkmargin/geometry/polygon.hpp"
#include "linkmargin/geometry/segment.hpp"

#include <array>
#include <cstdint>
#include <span>

namespace linkmargin {

/// Walls and boxes by blocks, tested against a ray all eight at once in single precision: a sieve before
/// exact predicates. Every test is widened, by about 0.01 m, which is more than its rounding: none misses
/// what the ray touches. A wall on the line of the ray may be left wherever on it the wall lies.
inline constexpr std::size_t kBlockSize = 8;
using Floats8 = std::array<float, kBlockSize>;

/// Boxes: their middles, from an origin, and half their sizes, widened. Those not set are met by no ray.
struct alignas(32) BoxBlock8 {
  Floats8 x{}, y{}, half_x, half_y{};

  BoxBlock8() { half_x.fill(-1e6F); }
  void set(std::size_t k, Box2 box, Point2 origin);
};

/// Walls: their middles, from an origin, half their vectors, and what widens the test of their lines. Those
/// not set are met by no ray.
struct alignas(32) WallBlock8 {
  Floats8 x{}, y{}, half_x{}, half_y{}, slack;

  WallBlock8() { slack.fill(-1); }
  void set(std::size_t k, Segment2 wall, Point2 origin);
};

/// A ray: its middle, from the origin, and half its vector. Origin, ray, walls and boxes all lie within
/// kCoordinateM.
struct BlockProbe {
  BlockProbe(Segment2 ray, Point2 origin);
  float x, y, half_x, half_y, slack;
};

/// Writes to `out`, for those blocks of `all` that `which` says, the members that the ray may touch (boxes)
/// or cross (walls), numbered 8 eight + place. `out` has room for 8 (which.size() + 1): what follows the
/// answer is of no meaning.
/// @returns how many
std::size_t sieve(std::span<const BoxBlock8> all, std::span<const std::uint32_t> which, const BlockProbe& ray,
                  std::uint32_t* out);
std::size_t sieve(std::span<const WallBlock8> all, std::span<const std::uint32_t> which,
                  const BlockProbe& ray, std::uint32_t* out);

/// The same without the wider instructions that sieve() uses where the processor has them.
std::size_t sieve_any(std::span<const BoxBlock8> all, std::span<const std::uint32_t> which,
                      const BlockProbe& ray, std::uint32_t* out);
std::size_t sieve_any(std::span<const WallBlock8> all, std::span<const std::uint32_t> which,
                      const BlockProbe& ray, std::uint32_t* out);

}  // namespace linkmargin
