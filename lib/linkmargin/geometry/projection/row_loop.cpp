#include "linkmargin/geometry/projection/row_loop.hpp"

#include "linkmargin/base/simd_dispatch.hpp"

#include <cmath>

namespace linkmargin {
namespace {

LINKMARGIN_LOOP void row_body(const RowLoop& loop) {
  const int row = loop.row;
  const int count = loop.count;
  const float t = loop.t;
  const float end = loop.end_column + 1;  // one more, for truncation to round up
  const float low = 0.5F;
  const float high = loop.columns + 0.5F;
  const float* __restrict left_ray = loop.left_ray, * __restrict left = loop.left, * __restrict left_slope = loop.left_slope, * __restrict right_ray = loop.right_ray, * __restrict right = loop.right, * __restrict right_slope = loop.right_slope, * __restrict certain = loop.certain;
  const int* __restrict first = loop.first, * __restrict last = loop.last;
  int* __restrict from = loop.from, * __restrict to = loop.to, * __restrict doubtful = loop.doubtful;
  for (int k = 0; k < count; ++k) {
    const float ray_l = end + left_ray[k] * t;
    const float base_l = left[k] + left_slope[k] * t;
    const float ray_r = end + right_ray[k] * t;
    const float base_r = right[k] + right_slope[k] * t;
    const float l = within(ray_l > base_l ? ray_l : base_l, low, high);
    const float r = within(ray_r < base_r ? ray_r : base_r, low, high);
    const int l_column = static_cast<int>(l);
    const int r_column = static_cast<int>(r);
    const float l_off = std::abs(l - static_cast<float>(l_column) - 0.5F);
    const float r_off = std::abs(r - static_cast<float>(r_column) - 0.5F);
    const int active = static_cast<int>(row >= first[k]) & static_cast<int>(row < last[k]);
    const int some = active & static_cast<int>(r_column > l_column);
    from[k] = l_column;
    to[k] = some != 0 ? r_column : l_column;
    doubtful[k] = active & (static_cast<int>(l_off > certain[k]) | static_cast<int>(r_off > certain[k]));
  }
}

LINKMARGIN_WIDE void row_wide(const RowLoop& loop) {
  row_body(loop);
}

void row_any(const RowLoop& loop) {
  row_body(loop);
}

}  // namespace

void run_row(const RowLoop& loop) {
  has_wide() ? row_wide(loop) : row_any(loop);
}

}  // namespace linkmargin
