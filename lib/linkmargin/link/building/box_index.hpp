#pragma once

#include "linkmargin/geometry/wall_block8.hpp"

#include <cstdint>
#include <span>
#include <vector>

namespace linkmargin {

/// Finds the boxes that a line may touch in plan. Built once, then read-only and safe to share between
/// threads.
class BoxIndex {
 public:
  BoxIndex() = default;

  /// @param boxes  of which the positions are given out; quickest where those that follow each other lie near
  /// each other
  explicit BoxIndex(std::span<const Box2> boxes);

  /// Positions of all boxes that the ray touches, in order, and of a few others. A ray of no length is a
  /// point.
  void near(Segment2 ray, std::vector<std::uint32_t>& found) const;

 private:
  std::vector<BoxBlock8> boxes_;
  std::vector<BoxBlock8> runs_;  // of boxes_
  std::uint32_t count_ = 0;
};

}  // namespace linkmargin
