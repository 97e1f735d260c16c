#include "linkmargin/geometry/welded_points.hpp"

#include <cmath>

namespace linkmargin {

std::uint32_t WeldedPoints::weld(Point2 p) {
  const auto column = static_cast<std::int64_t>(std::floor(p.x / near_m_));
  const auto row = static_cast<std::int64_t>(std::floor(p.y / near_m_));
  auto best = static_cast<std::uint32_t>(points_.size());
  double best_m = near_m_;
  for (const std::int64_t i : {column - 1, column, column + 1}) {
    for (const std::int64_t j : {row - 1, row, row + 1}) {
      const auto square = squares_.find({i, j});
      if (square == squares_.end()) continue;
      for (const std::uint32_t known : square->second) {
        const double apart_m = distance(points_[known], p);
        if (apart_m > best_m || (apart_m == best_m && known > best)) continue;
        best_m = apart_m;
        best = known;
      }
    }
  }
  if (best == points_.size()) {
    points_.push_back(p);
    squares_[{column, row}].push_back(best);
  }
  return best;
}

}  // namespace linkmargin
