#pragma once

#include "linkmargin/geometry/point.hpp"

#include <cstdint>
#include <map>
#include <utility>
#include <vector>

namespace linkmargin {

/// Points, numbered as they come; one that lies nearly on a known point is that point.
class WeldedPoints {
 public:
  /// @param near_m  > 0
  explicit WeldedPoints(double near_m) : near_m_(near_m) {}

  /// @return the position of the nearest known point no farther than near_m, the first of equally near ones;
  ///         else that of a new point, size() before
  std::uint32_t weld(Point2 p);

  Point2 at(std::size_t position) const { return points_[position]; }
  std::size_t size() const { return points_.size(); }

 private:
  double near_m_;
  std::vector<Point2> points_;
  std::map<std::pair<std::int64_t, std::int64_t>, std::vector<std::uint32_t>> squares_;  // as wide as near_m
};

}  // namespace linkmargin
