#include "linkmargin/geometry/wall_block8.hpp"

#include "linkmargin/base/simd_dispatch.hpp"

#include <cmath>

#if defined(__x86_64__) && defined(__GNUC__)
#define LINKMARGIN_EIGHT_WIDE
#include <immintrin.h>
#endif

namespace linkmargin {
namespace {

/// What the tests are widened by. Middles lie within 8192 m of the origin, and so their differences within
/// 12288 m, right to 0.002 m with the rounding of both; a cross product of such a difference with a vector v
/// is then right to 0.0045 (|v.x| + |v.y|), and one of v with a vector of up to 4096 m to
/// 0.001 (|v.x| + |v.y|). The two stand on the two sides of a comparison.
constexpr double kSlackM = 0x1p-7;
/// Over all that underflow loses.
constexpr double kLeast = 1e-30;

float slack_of(Point2 half) {
  return static_cast<float>(kSlackM * (std::abs(half.x) + std::abs(half.y)) + kLeast);
}

/// What is set in the bits of a byte: their places, and how many there are.
struct SetBits {
  constexpr SetBits() {
    for (std::size_t byte = 0; byte < 256; ++byte) {
      for (std::uint8_t bit = 0; bit < kBlockSize; ++bit) {
        if ((byte >> bit & 1) != 0) at[byte][count[byte]++] = bit;
      }
    }
  }
  std::array<std::array<std::uint8_t, kBlockSize>, 256> at{};
  std::array<std::uint8_t, 256> count{};
};
constexpr SetBits kSetBits;

/// A line passes a box when the middle of the box is no further from it than the corner of the box that
/// reaches furthest; and the boxes of both must meet.
unsigned touched(const BoxBlock8& box, const BlockProbe& ray) {
  const float reach_x = std::abs(ray.half_x);
  const float reach_y = std::abs(ray.half_y);
  unsigned mask = 0;
  for (std::size_t k = 0; k < kBlockSize; ++k) {
    const float dx = box.x[k] - ray.x;
    const float dy = box.y[k] - ray.y;
    const float off = std::abs(ray.half_x * dy - ray.half_y * dx);
    const float reach = reach_x * box.half_y[k] + reach_y * box.half_x[k] + ray.slack;
    const bool near =
        std::abs(dx) <= box.half_x[k] + reach_x && std::abs(dy) <= box.half_y[k] + reach_y && off <= reach;
    mask |= (near ? 1U : 0U) << k;
  }
  return mask;
}

/// Each of wall and ray has its middle no further from the line of the other than its own end: with middles d
/// apart and halves w and e, a common point is s e - t w = d for s and t within one of zero; then
/// e x d = -t (e x w) and w x d = s (w x e).
unsigned touched(const WallBlock8& wall, const BlockProbe& ray) {
  unsigned mask = 0;
  for (std::size_t k = 0; k < kBlockSize; ++k) {
    const float dx = wall.x[k] - ray.x;
    const float dy = wall.y[k] - ray.y;
    const float reach = std::abs(ray.half_x * wall.half_y[k] - ray.half_y * wall.half_x[k]);
    const float wall_off = std::abs(ray.half_x * dy - ray.half_y * dx);
    const float ray_off = std::abs(wall.half_x[k] * dy - wall.half_y[k] * dx);
    const bool near = wall_off <= reach + ray.slack && ray_off <= reach + wall.slack[k];
    mask |= (near ? 1U : 0U) << k;
  }
  return mask;
}

template <typename Eight>
std::size_t sieve_any_of(std::span<const Eight> all, std::span<const std::uint32_t> which,
                         const BlockProbe& ray, std::uint32_t* out) {
  std::size_t count = 0;
  for (const std::uint32_t eight : which) {
    const unsigned mask = touched(all[eight], ray);
    for (std::size_t k = 0; k < kBlockSize; ++k) {
      out[count + k] = eight * static_cast<std::uint32_t>(kBlockSize) + kSetBits.at[mask][k];
    }
    count += kSetBits.count[mask];
  }
  return count;
}

#ifdef LINKMARGIN_EIGHT_WIDE
LINKMARGIN_LOOP LINKMARGIN_WIDE __m256 size_of(__m256 v) {
  return _mm256_andnot_ps(_mm256_set1_ps(-0.0F), v);
}

/// The two tests above, all eight at once.
LINKMARGIN_LOOP LINKMARGIN_WIDE unsigned touched_wide(const BoxBlock8& box, const BlockProbe& ray) {
  const __m256 dx = _mm256_load_ps(box.x.data()) - _mm256_set1_ps(ray.x);
  const __m256 dy = _mm256_load_ps(box.y.data()) - _mm256_set1_ps(ray.y);
  const __m256 half_x = _mm256_load_ps(box.half_x.data());
  const __m256 half_y = _mm256_load_ps(box.half_y.data());
  const __m256 ray_x = _mm256_set1_ps(ray.half_x);
  const __m256 ray_y = _mm256_set1_ps(ray.half_y);
  const __m256 reach = size_of(ray_x) * half_y + size_of(ray_y) * half_x + _mm256_set1_ps(ray.slack);
  const __m256 near = _mm256_and_ps(_mm256_cmp_ps(size_of(dx), half_x + size_of(ray_x), _CMP_LE_OQ),
                                    _mm256_cmp_ps(size_of(dy), half_y + size_of(ray_y), _CMP_LE_OQ));
  const __m256 cut = _mm256_cmp_ps(size_of(ray_x * dy - ray_y * dx), reach, _CMP_LE_OQ);
  return static_cast<unsigned>(_mm256_movemask_ps(_mm256_and_ps(near, cut)));
}

LINKMARGIN_LOOP LINKMARGIN_WIDE unsigned touched_wide(const WallBlock8& wall, const BlockProbe& ray) {
  const __m256 dx = _mm256_load_ps(wall.x.data()) - _mm256_set1_ps(ray.x);
  const __m256 dy = _mm256_load_ps(wall.y.data()) - _mm256_set1_ps(ray.y);
  const __m256 half_x = _mm256_load_ps(wall.half_x.data());
  const __m256 half_y = _mm256_load_ps(wall.half_y.data());
  const __m256 ray_x = _mm256_set1_ps(ray.half_x);
  const __m256 ray_y = _mm256_set1_ps(ray.half_y);
  const __m256 reach = size_of(ray_x * half_y - ray_y * half_x);
  const __m256 wall_near =
      _mm256_cmp_ps(size_of(ray_x * dy - ray_y * dx), reach + _mm256_set1_ps(ray.slack), _CMP_LE_OQ);
  const __m256 ray_near = _mm256_cmp_ps(size_of(half_x * dy - half_y * dx),
                                        reach + _mm256_load_ps(wall.slack.data()), _CMP_LE_OQ);
  return static_cast<unsigned>(_mm256_movemask_ps(_mm256_and_ps(wall_near, ray_near)));
}

template <typename Eight>
LINKMARGIN_WIDE std::size_t sieve_wide(std::span<const Eight> all, std::span<const std::uint32_t> which,
                                       const BlockProbe& ray, std::uint32_t* out) {
  std::size_t count = 0;
  for (const std::uint32_t eight : which) {
    const unsigned mask = touched_wide(all[eight], ray);
    const void* const places = kSetBits.at[mask].data();
    const __m256i at = _mm256_cvtepu8_epi32(_mm_loadl_epi64(static_cast<const __m128i*>(places)));
    const __m256i first = _mm256_set1_epi32(static_cast<int>(eight * kBlockSize));
    _mm256_storeu_si256(reinterpret_cast<__m256i*>(out + count), _mm256_add_epi32(first, at));
    count += kSetBits.count[mask];
  }
  return count;
}
#endif

template <typename Eight>
std::size_t sieve_of(std::span<const Eight> all, std::span<const std::uint32_t> which, const BlockProbe& ray,
                     std::uint32_t* out) {
#ifdef LINKMARGIN_EIGHT_WIDE
  if (has_wide()) return sieve_wide(all, which, ray, out);
#endif
  return sieve_any_of(all, which, ray, out);
}

}  // namespace

void BoxBlock8::set(std::size_t k, Box2 box, Point2 origin) {
  const Point2 middle = 0.5 * (box.min + box.max) - origin;
  const Point2 half = 0.5 * (box.max - box.min);
  x[k] = static_cast<float>(middle.x);
  y[k] = static_cast<float>(middle.y);
  half_x[k] = static_cast<float>(half.x + kSlackM);
  half_y[k] = static_cast<float>(half.y + kSlackM);
}

void WallBlock8::set(std::size_t k, Segment2 wall, Point2 origin) {
  const Point2 middle = 0.5 * (wall.a + wall.b) - origin;
  const Point2 half = 0.5 * (wall.b - wall.a);
  x[k] = static_cast<float>(middle.x);
  y[k] = static_cast<float>(middle.y);
  half_x[k] = static_cast<float>(half.x);
  half_y[k] = static_cast<float>(half.y);
  slack[k] = slack_of(half);
}

BlockProbe::BlockProbe(Segment2 ray, Point2 origin) {
  const Point2 middle = 0.5 * (ray.a + ray.b) - origin;
  const Point2 half = 0.5 * (ray.b - ray.a);
  x = static_cast<float>(middle.x);
  y = static_cast<float>(middle.y);
  half_x = static_cast<float>(half.x);
  half_y = static_cast<float>(half.y);
  slack = slack_of(half);
}

std::size_t sieve(std::span<const BoxBlock8> all, std::span<const std::uint32_t> which, const BlockProbe& ray,
                  std::uint32_t* out) {
  return sieve_of(all, which, ray, out);
}
std::size_t sieve(std::span<const WallBlock8> all, std::span<const std::uint32_t> which,
                  const BlockProbe& ray, std::uint32_t* out) {
  return sieve_of(all, which, ray, out);
}
std::size_t sieve_any(std::span<const BoxBlock8> all, std::span<const std::uint32_t> which,
                      const BlockProbe& ray, std::uint32_t* out) {
  return sieve_any_of(all, which, ray, out);
}
std::size_t sieve_any(std::span<const WallBlock8> all, std::span<const std::uint32_t> which,
                      const BlockProbe& ray, std::uint32_t* out) {
  return sieve_any_of(all, which, ray, out);
}

}  // namespace linkmargin
