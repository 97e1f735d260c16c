#include "linkmargin/exchange/tracing/wall_tracks.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <utility>

namespace linkmargin::exchange {
namespace {

/// Lines that differ by less run alike: 0.6 degrees.
constexpr double kAlikeRad = 0.0105;

/// Lines no farther apart are one.
constexpr double kOneLineM = 0.008;

constexpr double kNoLengthM = 1e-4;

/// Between -kAlikeRad / 2 and half a turn less that.
double direction_rad(Segment2 segment) {
  const Point2 along = segment.b - segment.a;
  double angle = std::atan2(along.y, along.x);
  if (angle < 0) angle += std::numbers::pi;
  return angle >= std::numbers::pi - kAlikeRad / 2 ? angle - std::numbers::pi : angle;
}

TrackGroup group_of(std::span<const std::pair<double, Segment2>> alike) {
  const auto longest = std::ranges::max_element(
      alike, {}, [](const std::pair<double, Segment2>& one) { return length(one.second); });
  TrackGroup group;
  group.along = {std::cos(longest->first), std::sin(longest->first)};
  std::vector<std::pair<double, Interval>> parts;  // across, along
  for (const auto& [angle, segment] : alike) {
    const double from = dot(segment.a, group.along), to = dot(segment.b, group.along);
    const double across = (cross(group.along, segment.a) + cross(group.along, segment.b)) / 2;
    parts.push_back({across, {std::min(from, to), std::max(from, to)}});
  }
  std::ranges::sort(parts, {}, [](const std::pair<double, Interval>& part) {
    return std::pair(part.first, part.second.from);
  });
  for (const auto& [across, part] : parts) {
    if (group.tracks.empty() || across - group.tracks.back().across > kOneLineM)
      group.tracks.push_back({.across = across, .parts = {}});
    group.tracks.back().parts.push_back(part);
  }
  for (Track& track : group.tracks) track.parts = merged(std::move(track.parts), kOneLineM);
  return group;
}

}  // namespace

std::vector<Interval> without(Interval whole, std::span<const Interval> taken) {
  std::vector<Interval> left{whole};
  for (const Interval& one : taken) {
    if (one.to <= whole.from || one.from >= whole.to) continue;
    std::vector<Interval> rest;
    for (const Interval& part : left) {
      if (one.to <= part.from || one.from >= part.to) {
        rest.push_back(part);
        continue;
      }
      if (one.from > part.from) rest.push_back({part.from, one.from});
      if (one.to < part.to) rest.push_back({one.to, part.to});
    }
    left = std::move(rest);
  }
  return left;
}

std::vector<Interval> merged(std::vector<Interval> parts, double apart) {
  std::ranges::sort(parts, {}, &Interval::from);
  std::vector<Interval> result;
  for (const Interval& part : parts) {
    if (!result.empty() && part.from <= result.back().to + apart) {
      result.back().to = std::max(result.back().to, part.to);
    } else {
      result.push_back(part);
    }
  }
  return result;
}

std::vector<TrackGroup> track_groups(std::span<const Segment2> segments) {
  std::vector<std::pair<double, Segment2>> by_direction;
  for (const Segment2& segment : segments) {
    if (length(segment) > kNoLengthM) by_direction.emplace_back(direction_rad(segment), segment);
  }
  std::ranges::stable_sort(by_direction, {},
                           [](const std::pair<double, Segment2>& one) { return one.first; });
  std::vector<TrackGroup> groups;
  for (std::size_t begin = 0, i = 1; begin < by_direction.size(); ++i) {
    if (i < by_direction.size() && by_direction[i].first - by_direction[begin].first <= kAlikeRad) continue;
    groups.push_back(group_of(std::span(by_direction).subspan(begin, i - begin)));
    begin = i;
  }
  return groups;
}

}  // namespace linkmargin::exchange
