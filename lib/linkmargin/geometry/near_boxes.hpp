#pragma once

#include "linkmargin/geometry/polygon.hpp"

#include <algorithm>
#include <cstddef>
#include <span>
#include <vector>

namespace linkmargin {

/// Calls visit(i, j), i < j, for every two boxes whose distance along x and along y is at most `reach_m`,
/// each pair once, in a fixed order, until visit answers false. Costs a sort and the pairs that are near
/// along x.
template <typename Visit>
void for_near_boxes(std::span<const Box2> boxes, double reach_m, Visit&& visit) {
  std::vector<std::size_t> order(boxes.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::ranges::stable_sort(order, {}, [&](std::size_t i) { return boxes[i].min.x; });
  for (std::size_t m = 0; m < order.size(); ++m) {
    const Box2& left = boxes[order[m]];
    for (std::size_t n = m + 1; n < order.size() && boxes[order[n]].min.x <= left.max.x + reach_m; ++n) {
      const Box2& right = boxes[order[n]];
      if (right.min.y > left.max.y + reach_m || left.min.y > right.max.y + reach_m) continue;
      if (!visit(std::min(order[m], order[n]), std::max(order[m], order[n]))) return;
    }
  }
}

}  // namespace linkmargin
