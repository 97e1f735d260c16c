#include "linkmargin/link/building/wall_ends.hpp"

#include <cmath>

namespace linkmargin {
namespace {

/// How far on from a tip another faces it; nothing where it does not.
std::optional<double> opposite_m(const WallTip& one, const WallTip& other) {
  constexpr double kStraightCos = 0.985;  // walls that bend less than 10 degrees are in line
  if (dot(one.onward, other.onward) > -kStraightCos) return {};
  const Point2 between = other.at - one.at;
  const double apart_m = dot(between, one.onward);
  if (apart_m < kJointM || apart_m > 2 * kShadeReachM) return {};
  if (std::abs(cross(between, one.onward)) > kJointM) return {};
  if (std::abs(cross(between, other.onward)) > kJointM) return {};
  return apart_m;
}

/// How far on from a tip a wall's face lies; nothing where it is not ahead.
std::optional<double> face_m(const WallTip& tip, Segment2 wall) {
  const Point2 along = wall.b - wall.a;
  const double size_m = length(wall);
  const double turn = cross(tip.onward, along) / size_m;  // sine of the angle between
  constexpr double kLeastSine = 0.02;
  if (std::abs(turn) < kLeastSine) return {};
  const Point2 to = wall.a - tip.at;
  const double ahead_m = cross(to, along) / size_m / turn;
  const double along_m = cross(to, tip.onward) / turn;
  if (ahead_m < kJointM || ahead_m > kShadeReachM) return {};
  if (along_m < -kJointM || along_m > size_m + kJointM) return {};
  return ahead_m;
}

std::optional<std::size_t> joined_to(const std::vector<WallPiece>& plan, const WallTip& tip) {
  std::optional<std::size_t> nearest;
  double nearest_m = kJointM;
  for (std::size_t other = 0; other < plan.size(); ++other) {
    if (other == tip.piece || !plan[other].construction) continue;
    const double distance_m = distance_to_segment(tip.at, plan[other].line);
    if (distance_m >= nearest_m) continue;
    nearest = other;
    nearest_m = distance_m;
  }
  return nearest;
}

/// What lies ahead of a tip that is not joined, nearest first.
WallEnd ahead(const std::vector<WallPiece>& plan, const WallTip& tip) {
  WallEnd found{WallEnd::Comes::to_air, 0, false, tip.at + kShadeReachM * tip.onward};
  std::optional<double> nearest_m;
  for (std::size_t other = 0; other < plan.size(); ++other) {
    if (other == tip.piece || !stands(plan[other])) continue;
    WallEnd met{WallEnd::Comes::to_face, other, false, {}};
    std::optional<double> ahead_m;
    for (const bool at_b : {false, true}) {
      const WallTip end(plan, other, at_b);
      const std::optional<double> apart_m = opposite_m(tip, end);
      if (!apart_m) continue;
      ahead_m = apart_m;
      met = {WallEnd::Comes::to_opposite, other, at_b, end.at};
    }
    if (!ahead_m && (ahead_m = face_m(tip, plan[other].line))) met.at = tip.at + *ahead_m * tip.onward;
    if (!ahead_m || (nearest_m && *ahead_m >= *nearest_m)) continue;
    nearest_m = ahead_m;
    found = met;
  }
  return found;
}

}  // namespace

WallTip::WallTip(const std::vector<WallPiece>& plan, std::size_t of, bool end_b) : piece(of), at_b(end_b) {
  const Segment2 line = plan[of].line;
  at = end_b ? line.b : line.a;
  onward = (1 / length(line)) * (end_b ? line.b - line.a : line.a - line.b);
}

bool stands(const WallPiece& piece) {
  return piece.construction && piece.line.a != piece.line.b;
}

WallEnd wall_end(const std::vector<WallPiece>& plan, std::size_t piece, bool at_b) {
  const WallTip tip(plan, piece, at_b);
  if (const auto other = joined_to(plan, tip)) return {WallEnd::Comes::to_joint, *other, false, tip.at};
  WallEnd found = ahead(plan, tip);
  if (found.comes != WallEnd::Comes::to_opposite) return found;
  const WallTip end(plan, found.other, found.other_at_b);
  const WallEnd back = joined_to(plan, end) ? WallEnd{} : ahead(plan, end);
  const bool mutual =
      back.comes == WallEnd::Comes::to_opposite && back.other == piece && back.other_at_b == at_b;
  if (mutual) return found;
  const double ahead_m = dot(end.at - tip.at, tip.onward);
  return {WallEnd::Comes::to_face, found.other, false, tip.at + ahead_m * tip.onward};
}

}  // namespace linkmargin
