#pragma once

#include "linkmargin/geometry/segment.hpp"

#include <span>
#include <vector>

/// Not installed.
namespace linkmargin::exchange {

/// From one place along a line to another, from < to.
struct Interval {
  double from = 0;
  double to = 0;
};

/// What is left of an interval without others, which are in no order.
std::vector<Interval> without(Interval whole, std::span<const Interval> taken);

/// Intervals that overlap, or are no farther apart, made one, in order.
std::vector<Interval> merged(std::vector<Interval> parts, double apart);

/// A straight line on which segments lie.
struct Track {
  double across = 0;            ///< of its direction, to the left
  std::vector<Interval> parts;  ///< in order, apart from each other
};

/// Lines of one direction.
struct TrackGroup {
  Point2 along{1, 0};         ///< of length 1
  std::vector<Track> tracks;  ///< by rising `across`

  Point2 at(double along_m, double across_m) const {
    return along_m * along + across_m * Point2{-along.y, along.x};
  }
  Segment2 segment(Interval part, double across_m) const {
    return {at(part.from, across_m), at(part.to, across_m)};
  }
};

/// Segments by direction and line: those that nearly lie on one line are on one track.
std::vector<TrackGroup> track_groups(std::span<const Segment2> segments);

}  // namespace linkmargin::exchange
