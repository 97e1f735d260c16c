#include "linkmargin/analysis/coverage/row_accumulation.hpp"

#include "linkmargin/base/simd_dispatch.hpp"
#include "linkmargin/link/building/path.hpp"

#include <bit>
#include <cmath>

namespace linkmargin {
namespace {

/// log2 of a positive, normal number: the exponent, and the series of the area hyperbolic tangent for a
/// mantissa within sqrt(1/2) and sqrt(2), where the first term left out is 3e-8.
LINKMARGIN_LOOP float log2_of(float x) {
  constexpr std::int32_t root_half = 0x3F3504F3;  // the bits of sqrt(1/2)
  constexpr float twice_log2_e = 2.885390082F;
  const std::int32_t bits = std::bit_cast<std::int32_t>(x);
  const std::int32_t exponent = (bits - root_half) >> 23;
  const float mantissa = std::bit_cast<float>(bits - exponent * (1 << 23));
  const float w = (mantissa - 1) / (mantissa + 1);
  const float square = w * w;
  const float series = 1 + square * (1 / 3.0F + square * (1 / 5.0F + square * (1 / 7.0F)));
  return static_cast<float>(exponent) + twice_log2_e * w * series;
}

struct DistanceLoop {
  int count;
  float rest, at_1m_db, octave_db;
  float nearest;  // square; not a constant, or its logarithm becomes one, and the loop one of single steps
  const float* x_squared;
  const double* sums;
  float* loss_db;
};

LINKMARGIN_LOOP void distance_body(const DistanceLoop& loop) {
  const int count = loop.count;
  const float nearest = loop.nearest;
  const float rest = loop.rest;
  const float at_1m_db = loop.at_1m_db;
  const float octave_db = loop.octave_db;
  const float* __restrict x_squared = loop.x_squared;
  const double* __restrict sums = loop.sums;
  float* __restrict loss_db = loop.loss_db;
  for (int i = 0; i < count; ++i) {
    const float square = x_squared[i] + rest;
    const float log2 = log2_of(square < nearest ? nearest : square);
    loss_db[i] = static_cast<float>(sums[i]) + (at_1m_db + octave_db * log2);
  }
}

struct AngleLoop {
  int count;
  float normal_x, normal_rest, first_cos, per_cos, last;
  const float *x, *inverse, *values, *counts;
  double* sums;
};

template <bool kCounts>
LINKMARGIN_LOOP void angle_body(const AngleLoop& loop) {
  const int count = loop.count;
  const float normal_x = loop.normal_x;
  const float normal_rest = loop.normal_rest;
  const float first_cos = loop.first_cos;
  const float per_cos = loop.per_cos;
  const float last = loop.last;
  const float* __restrict x = loop.x, * __restrict inverse = loop.inverse, * __restrict values = loop.values, * __restrict counts = loop.counts;
  double* __restrict sums = loop.sums;
  for (int i = 0; i < count; ++i) {
    const float cosine = std::abs(normal_x * x[i] + normal_rest) * inverse[i];
    float at = (cosine - first_cos) * per_cos;
    at = at < 0 ? 0 : at;
    at = at > last ? last : at;
    const int k = static_cast<int>(at);
    const float value = values[k] + (at - static_cast<float>(k)) * (values[k + 1] - values[k]);
    sums[i] += static_cast<double>(kCounts ? counts[i] * value : value);
  }
}

LINKMARGIN_LOOP void inverse_body(const float* __restrict x_squared, float rest, int count,
                                  float* __restrict inverse) {
  constexpr float no_zero =
      1e-20F;  // less than the rounding of any distance over one step of the coordinates
  for (int i = 0; i < count; ++i) inverse[i] = 1 / std::sqrt(x_squared[i] + rest + no_zero);
}

LINKMARGIN_WIDE void distance_wide(const DistanceLoop& loop) {
  distance_body(loop);
}
void distance_any(const DistanceLoop& loop) {
  distance_body(loop);
}
LINKMARGIN_WIDE void angle_wide(const AngleLoop& loop) {
  angle_body<false>(loop);
}
void angle_any(const AngleLoop& loop) {
  angle_body<false>(loop);
}
LINKMARGIN_WIDE void counted_angle_wide(const AngleLoop& loop) {
  angle_body<true>(loop);
}
void counted_angle_any(const AngleLoop& loop) {
  angle_body<true>(loop);
}
LINKMARGIN_WIDE void inverse_wide(const float* x_squared, float rest, int count, float* inverse) {
  inverse_body(x_squared, rest, count, inverse);
}
void inverse_any(const float* x_squared, float rest, int count, float* inverse) {
  inverse_body(x_squared, rest, count, inverse);
}

AngleLoop loop_of(const AngleRow& row, std::span<double> sums) {
  return {static_cast<int>(sums.size()),
          row.normal_x,
          row.normal_rest,
          row.table->first_cos,
          row.table->per_cos,
          static_cast<float>(row.table->values.size() - 2),
          row.x.data(),
          row.inverse.data(),
          row.table->values.data(),
          nullptr,
          sums.data()};
}

}  // namespace

void run_along(std::span<std::int64_t> steps, std::span<double> sums) {
  std::int64_t sum = 0;
  for (std::size_t i = 0; i < sums.size(); ++i) {
    sum += steps[i];
    steps[i] = 0;
    sums[i] = static_cast<double>(sum) * (1 / kStepsPerDb);
  }
  steps[sums.size()] = 0;
}

void run_along(std::span<int> changes, int from, int to, std::span<float> counts) {
  int sum = 0;
  for (auto i = static_cast<std::size_t>(from); i < static_cast<std::size_t>(to); ++i) {
    sum += changes[i];
    changes[i] = 0;
    counts[i] = static_cast<float>(sum);
  }
  changes[static_cast<std::size_t>(to)] = 0;
}

void inverse_distances(const RowDistances& distances, std::span<float> inverse) {
  const auto count = static_cast<int>(inverse.size());
  (has_wide() ? inverse_wide : inverse_any)(distances.x_squared.data(), distances.rest, count,
                                            inverse.data());
}

void add_distance(const RowDistances& distances, float at_1m_db, float octave_db,
                  std::span<const double> sums, std::span<float> loss_db) {
  const DistanceLoop loop{.count = static_cast<int>(sums.size()),
                          .rest = distances.rest,
                          .at_1m_db = at_1m_db,
                          .octave_db = octave_db,
                          .nearest = static_cast<float>(kNearestM * kNearestM),
                          .x_squared = distances.x_squared.data(),
                          .sums = sums.data(),
                          .loss_db = loss_db.data()};
  (has_wide() ? distance_wide : distance_any)(loop);
}

void add_angle_losses(const AngleRow& row, std::span<double> sums) {
  (has_wide() ? angle_wide : angle_any)(loop_of(row, sums));
}

void add_angle_losses(const AngleRow& row, std::span<const float> counts, std::span<double> sums) {
  AngleLoop loop = loop_of(row, sums);
  loop.counts = counts.data();
  (has_wide() ? counted_angle_wide : counted_angle_any)(loop);
}

}  // namespace linkmargin
