#pragma once

#include "linkmargin/geometry/segment.hpp"

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace linkmargin {

/// An upright edge, from a height up to another.
struct UprightEdge {
  Point2 at;
  double bottom_m = 0;
  double top_m = 0;
};

/// Finds the upright edges that a way a little longer than a line may go by. Built once, then read-only and
/// safe to share between threads.
class CornerIndex {
 public:
  CornerIndex() = default;

  /// @param edges  those that follow each other lie near each other: a run that is far off is passed over
  explicit CornerIndex(std::span<const UprightEdge> edges);

  /// A straight line in space, by its plan.
  struct Line {
    Segment2 plan;        ///< longer than nothing
    double length_m = 0;  ///< in space
    double low_m = 0;     ///< heights of its ends
    double high_m = 0;
  };

  /// Positions, in order, of all edges between the line's ends by which a way in the plane of the line
  /// (upright to its plan, tilted as it is) is no longer than way_m. A few others too: those whose height the
  /// line misses, and those that make it longer by rounding.
  void near(const Line& line, double way_m, std::vector<std::uint32_t>& found) const;

 private:
  static constexpr std::size_t kLanes = 8;
  static constexpr std::size_t kRun = 64;
  struct Run {
    Box2 box;
    double bottom_m;
    double top_m;
  };
  struct alignas(64) Eight {
    double x[kLanes];
    double y[kLanes];
  };
  struct Ellipse;
  static unsigned inside(const Eight& edges, const Ellipse& ellipse);
  static unsigned inside_wide(const Eight& edges, const Ellipse& ellipse);
  static unsigned inside_body(const Eight& edges, const Ellipse& ellipse);

  std::vector<Run> runs_;      // of each kRun edges
  std::vector<Eight> eights_;  // not a number behind the last
};

}  // namespace linkmargin
