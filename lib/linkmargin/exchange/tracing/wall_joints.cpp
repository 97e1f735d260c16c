#include "linkmargin/exchange/tracing/wall_joints.hpp"

#include "linkmargin/geometry/near_boxes.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <optional>
#include <set>
#include <utility>

namespace linkmargin::exchange {
namespace {

constexpr double kFar = std::numeric_limits<double>::infinity();

/// Walls at a smaller angle run alike: 15 degrees.
constexpr double kAcrossSine = 0.26;

/// Walls in line differ by less: 5 degrees, and so far across beside half of what their thicknesses differ.
constexpr double kInLineSine = 0.09;
constexpr double kInLineM = 0.06;

struct End {
  Point2 at;
  Point2 outward;  // of length 1
};

End end_of_wall(const WallLine& wall, bool at_b) {
  const Segment2 line = wall.line;
  const Point2 along = (1 / std::max(length(line), 1e-9)) * (line.b - line.a);
  return at_b ? End{line.b, along} : End{line.a, -1 * along};
}

/// How far before an end the line of another wall is met, and how far along that one from its first end.
struct Meeting {
  double ahead_m = 0;
  double along_m = 0;
  double sine = 0;
};

std::optional<Meeting> meeting(const End& end, const WallLine& other) {
  const double long_m = length(other.line);
  if (long_m < 1e-6) return {};
  const Point2 along = (1 / long_m) * (other.line.b - other.line.a);
  const double sine = cross(end.outward, along);
  if (std::abs(sine) < kAcrossSine) return {};
  const Point2 from = other.line.a - end.at;
  return Meeting{cross(from, along) / sine, cross(from, end.outward) / sine, std::abs(sine)};
}

std::vector<Box2> boxes_of(const std::vector<WallLine>& walls) {
  std::vector<Box2> boxes;
  boxes.reserve(walls.size());
  for (const WallLine& wall : walls) boxes.push_back(bounding_box(wall.line));
  return boxes;
}

/// How far an end goes to meet another wall: the nearest of those that it reaches.
struct Reach {
  double ahead_m = kFar;

  void take(const End& end, double own_thickness_m, const WallLine& other) {
    const auto met = meeting(end, other);
    if (!met) return;
    const double slack = kJoinM / met->sine;
    const double reach = other.thickness_m / 2 / met->sine + slack;
    const double beyond = own_thickness_m / 2 / met->sine + slack;
    if (std::abs(met->ahead_m) > reach || met->along_m < -beyond ||
        met->along_m > length(other.line) + beyond)
      return;
    if (std::abs(met->ahead_m) < std::abs(ahead_m)) ahead_m = met->ahead_m;
  }
};

/// What a free end points at.
struct Target {
  double clear_m = kFar;  // to the face of what is there
  Point2 at;
};

void take_across(Target& nearest, const End& end, const WallLine& other) {
  const auto met = meeting(end, other);
  if (!met || met->along_m < -kJoinM || met->along_m > length(other.line) + kJoinM) return;
  const double clear_m = met->ahead_m - other.thickness_m / 2 / met->sine;
  if (clear_m <= 0 || clear_m >= nearest.clear_m) return;
  nearest = {clear_m, end.at + met->ahead_m * end.outward};
}

void take_in_line(Target& nearest, const End& end, double own_thickness_m, const WallLine& other,
                  bool other_at_b) {
  const End facing = end_of_wall(other, other_at_b);
  if (dot(end.outward, facing.outward) > 0 || std::abs(cross(end.outward, facing.outward)) > kInLineSine)
    return;
  const Point2 between = facing.at - end.at;
  const double clear_m = dot(between, end.outward);
  const double off_m = std::abs(cross(between, end.outward));
  if (off_m > kInLineM + std::abs(own_thickness_m - other.thickness_m) / 2) return;
  if (clear_m <= 0 || clear_m >= nearest.clear_m) return;
  nearest = {clear_m, facing.at};
}

}  // namespace

std::vector<JoinedEnds> join_ends(std::vector<WallLine>& walls) {
  std::vector<std::pair<Reach, Reach>> reaches(walls.size());
  const auto look = [&](std::size_t own, std::size_t other) {
    const double thickness_m = walls[own].thickness_m;
    reaches[own].first.take(end_of_wall(walls[own], false), thickness_m, walls[other]);
    reaches[own].second.take(end_of_wall(walls[own], true), thickness_m, walls[other]);
  };
  for_near_boxes(boxes_of(walls), kMostWallM + 2 * kJoinM, [&](std::size_t i, std::size_t j) {
    look(i, j);
    look(j, i);
    return true;
  });
  std::vector<JoinedEnds> joined(walls.size());
  for (std::size_t i = 0; i < walls.size(); ++i) {
    const End a = end_of_wall(walls[i], false), b = end_of_wall(walls[i], true);
    joined[i] = {reaches[i].first.ahead_m != kFar, reaches[i].second.ahead_m != kFar};
    if (joined[i].a) walls[i].line.a = a.at + std::max(0.0, reaches[i].first.ahead_m) * a.outward;
    if (joined[i].b) walls[i].line.b = b.at + std::max(0.0, reaches[i].second.ahead_m) * b.outward;
  }
  return joined;
}

std::vector<WallGap> gaps_before(const std::vector<WallLine>& walls, const std::vector<JoinedEnds>& joined) {
  const auto is_free = [&](std::size_t i, bool at_b) { return at_b ? !joined[i].b : !joined[i].a; };
  std::vector<std::pair<Target, Target>> targets(walls.size());
  const auto look = [&](std::size_t own, std::size_t other) {
    for (const bool at_b : {false, true}) {
      if (!is_free(own, at_b)) continue;
      Target& target = at_b ? targets[own].second : targets[own].first;
      const End end = end_of_wall(walls[own], at_b);
      take_across(target, end, walls[other]);
      for (const bool other_at_b : {false, true}) {
        if (is_free(other, other_at_b))
          take_in_line(target, end, walls[own].thickness_m, walls[other], other_at_b);
      }
    }
  };
  for_near_boxes(boxes_of(walls), kMostGapM + kMostWallM, [&](std::size_t i, std::size_t j) {
    look(i, j);
    look(j, i);
    return true;
  });
  std::vector<WallGap> gaps;
  std::set<std::pair<Point2, Point2>> known;
  for (std::size_t i = 0; i < walls.size(); ++i) {
    for (const bool at_b : {false, true}) {
      const Target& target = at_b ? targets[i].second : targets[i].first;
      if (target.clear_m > kMostGapM) continue;
      const Point2 at = end_of_wall(walls[i], at_b).at;
      if (known.contains({target.at, at})) continue;  // seen from its other end
      known.emplace(at, target.at);
      gaps.push_back({{at, target.at}, target.clear_m, walls[i].thickness_m});
    }
  }
  return gaps;
}

}  // namespace linkmargin::exchange
