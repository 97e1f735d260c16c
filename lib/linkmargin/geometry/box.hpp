#pragma once

#include "linkmargin/geometry/point.hpp"

#include <algorithm>
#include <limits>

namespace linkmargin {

/// An upright rectangle, its sides along the axes.
struct Box2 {
  Point2 min;
  Point2 max;

  /// Holds nothing, and grows by what it takes.
  static constexpr Box2 nothing() {
    constexpr double far = std::numeric_limits<double>::infinity();
    return {{far, far}, {-far, -far}};
  }
  constexpr bool empty() const { return max.x < min.x || max.y < min.y; }

  /// Sides count.
  constexpr bool meets(const Box2& other) const {
    return min.x <= other.max.x && other.min.x <= max.x && min.y <= other.max.y && other.min.y <= max.y;
  }
  constexpr bool holds(Point2 p) const { return meets({p, p}); }

  /// Grows as far as the point, if it lies outside.
  constexpr void take(Point2 p) { take(Box2{p, p}); }
  constexpr void take(const Box2& other) {
    min = {std::min(min.x, other.min.x), std::min(min.y, other.min.y)};
    max = {std::max(max.x, other.max.x), std::max(max.y, other.max.y)};
  }
};

}  // namespace linkmargin
