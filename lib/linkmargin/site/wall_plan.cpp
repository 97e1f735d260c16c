#include "linkmargin/site/wall_plan.hpp"

#include "linkmargin/geometry/welded_points.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace linkmargin {
namespace {

/// How far a joint may lie off the straight wall that it is left out of: rounding of typed corners.
constexpr double kStraightM = 0.001;

/// How far an opening's end may lie beyond its wall's.
constexpr double kOverhangM = 0.001;

/// How near two points are to count as one corner, the snapping of both included.
constexpr double kNearM = kWeldM + kGridPitchM;

/// The corners of all rooms, those that nearly coincide made one, at the place where the first room has it.
class Nodes {
 public:
  std::size_t weld(Point2 p, std::size_t room) {
    const std::size_t node = points_.weld(p);
    if (node == owners_.size()) {
      owners_.push_back({room, false});
    } else if (owners_[node].room != room) {
      owners_[node].shared = true;
    }
    return node;
  }

  /// To be called when all corners are welded.
  void sort_by_x() {
    for (std::size_t node = 0; node < points_.size(); ++node) by_x_.push_back(node);
    std::ranges::stable_sort(by_x_, {}, [this](std::size_t node) { return at(node).x; });
  }

  Point2 at(std::size_t node) const { return points_.at(node); }

  /// The nodes of other rooms that lie on the edge between two nodes, in order from `from`.
  std::vector<std::size_t> between(std::size_t from, std::size_t to, std::size_t room) const {
    const Segment2 edge{at(from), at(to)};
    const auto [left, right] = std::minmax(edge.a.x, edge.b.x);
    const auto x_of = [this](std::size_t node) { return at(node).x; };
    std::vector<std::pair<double, std::size_t>> found;
    for (auto it = std::ranges::lower_bound(by_x_, left - kNearM, {}, x_of);
         it != by_x_.end() && x_of(*it) <= right + kNearM; ++it) {
      const bool other = owners_[*it].shared || owners_[*it].room != room;
      if (!other || *it == from || *it == to || distance_to_segment(at(*it), edge) > kNearM) continue;
      const double fraction = nearest_fraction(at(*it), edge);
      if (fraction > 0 && fraction < 1) found.emplace_back(fraction, *it);
    }
    std::ranges::sort(found);
    std::vector<std::size_t> result;
    for (const auto& [fraction, node] : found) result.push_back(node);
    return result;
  }

 private:
  struct Owner {
    std::size_t room;  // the first that has the corner
    bool shared;       // others have it too
  };
  WeldedPoints points_{kNearM};
  std::vector<Owner> owners_;  // of each point
  std::vector<std::size_t> by_x_;
};

constexpr std::size_t kNoRoom = static_cast<std::size_t>(-1);

/// A straight part of a room's outline, between two nodes that follow each other on it.
struct Part {
  std::size_t from = 0;
  std::size_t to = 0;
  std::size_t second = kNoRoom;  // what lies on its other side
  bool mine = true;  // the room is the first of the two: it is the one to put the piece into the plan
};

std::pair<std::size_t, std::size_t> key(const Part& part) {
  return std::minmax(part.from, part.to);
}

using Owners = std::map<std::pair<std::size_t, std::size_t>, std::vector<std::size_t>>;

/// The outline of every room, split, and which rooms each part belongs to.
std::vector<std::vector<Part>> split_outlines(const std::vector<Room>& rooms, Nodes& nodes, Owners& owners) {
  std::vector<std::vector<std::size_t>> outlines;
  for (std::size_t room = 0; room < rooms.size(); ++room) {
    auto& outline = outlines.emplace_back();
    for (const Point2 corner : rooms[room].corners) {
      const std::size_t node = nodes.weld(corner, room);
      if (outline.empty() || outline.back() != node) outline.push_back(node);
    }
    if (outline.size() > 1 && outline.front() == outline.back()) outline.pop_back();
  }
  nodes.sort_by_x();
  std::vector<std::vector<Part>> result(rooms.size());
  for (std::size_t room = 0; room < rooms.size(); ++room) {
    const auto& outline = outlines[room];
    for (std::size_t i = 0; i < outline.size() && outline.size() > 1; ++i) {
      std::size_t from = outline[i];
      const std::size_t end = outline[i + 1 < outline.size() ? i + 1 : 0];
      auto stops = nodes.between(from, end, room);
      stops.push_back(end);
      for (const std::size_t to : stops) {
        result[room].push_back({from, to});
        auto& owner = owners[key(result[room].back())];
        if (owner.empty() || owner.back() != room) owner.push_back(room);
        from = to;
      }
    }
  }
  return result;
}

/// Whether parts [first, last] of an outline, counted round it, lie on one straight line between their ends.
bool straight(const std::vector<Part>& parts, const Nodes& nodes, std::size_t first, std::size_t last) {
  const Segment2 whole{nodes.at(parts[first % parts.size()].from), nodes.at(parts[last % parts.size()].to)};
  double reached = 0;
  for (std::size_t i = first; i < last; ++i) {
    const Point2 joint = nodes.at(parts[i % parts.size()].to);
    const double fraction = nearest_fraction(joint, whole);
    if (fraction <= reached || fraction >= 1 || distance_to_segment(joint, whole) > kStraightM) return false;
    reached = fraction;
  }
  return true;
}

bool joins(const std::vector<Part>& parts, const Nodes& nodes, std::size_t first, std::size_t last) {
  const Part& before = parts[(last - 1) % parts.size()];
  const Part& after = parts[last % parts.size()];
  return before.mine && after.mine && before.second == after.second && straight(parts, nodes, first, last);
}

/// Runs of parts, each [first, last] counted round the outline, that make one piece of wall.
std::vector<std::pair<std::size_t, std::size_t>> runs(const std::vector<Part>& parts, const Nodes& nodes) {
  std::vector<std::pair<std::size_t, std::size_t>> result;
  if (parts.empty()) return result;
  std::size_t start = 0;  // the first part that does not go on from the one before it
  while (start < parts.size() && joins(parts, nodes, start + parts.size() - 1, start + parts.size())) ++start;
  start %= parts.size();
  for (std::size_t i = start; i < start + parts.size(); ++i) {
    const bool goes_on = i > start && joins(parts, nodes, result.back().first, i);
    if (goes_on) {
      result.back().second = i;
    } else {
      result.emplace_back(i, i);
    }
  }
  return result;
}

std::optional<Construction> unless_none(const Construction& construction) {
  if (construction.material.empty() || construction.material == kNoMaterial) return {};
  return construction;
}

std::optional<Construction> construction_between(const Storey& storey, const std::string& first,
                                                 const std::string& second) {
  for (const Boundary& boundary : storey.boundaries) {
    const bool same = boundary.first == first && boundary.second == second;
    const bool turned = boundary.first == second && boundary.second == first;
    if (same || turned) return unless_none(boundary.construction);
  }
  return unless_none(second == kOutside ? storey.outer_wall : storey.inner_wall);
}

bool on_piece_of(const WallPiece& piece, const Opening& opening) {
  if (!opening.wall.empty()) return piece.traced == opening.wall;
  return piece.traced.empty() && ((piece.first == opening.first && piece.second == opening.second) ||
                                  (piece.first == opening.second && piece.second == opening.first));
}

}  // namespace

std::vector<WallPiece> wall_plan(const Storey& storey) {
  Nodes nodes;
  Owners owners;
  auto outlines = split_outlines(storey.rooms, nodes, owners);
  std::vector<WallPiece> plan;
  for (std::size_t room = 0; room < outlines.size(); ++room) {
    auto& parts = outlines[room];
    for (Part& part : parts) {
      const auto& owner = owners.at(key(part));
      part.mine = owner.front() == room;
      if (owner.size() > 1) part.second = part.mine ? owner[1] : owner.front();
    }
    for (const auto& [first, last] : runs(parts, nodes)) {
      const Part& begin = parts[first % parts.size()];
      if (!begin.mine) continue;
      const std::string& name = storey.rooms[room].name;
      const std::string other = begin.second == kNoRoom ? kOutside : storey.rooms[begin.second].name;
      plan.push_back({{nodes.at(begin.from), nodes.at(parts[last % parts.size()].to)},
                      name,
                      other,
                      {},
                      construction_between(storey, name, other),
                      storey.height_m});
    }
  }
  for (const TracedWall& wall : storey.walls) {
    plan.push_back({wall.line,
                    {},
                    {},
                    wall.name,
                    unless_none(wall.construction),
                    wall.height_m.value_or(storey.height_m)});
  }
  return plan;
}

std::optional<OpeningPlace> locate_opening(const std::vector<WallPiece>& plan, const Storey& storey,
                                           std::size_t opening) {
  const Opening& wanted = storey.openings[opening];
  std::optional<OpeningPlace> best;
  double best_m = kOpeningReachM;
  for (std::size_t piece = 0; piece < plan.size(); ++piece) {
    const Segment2 line = plan[piece].line;
    const double length_m = length(line);
    const double away_m = distance_to_segment(wanted.at, line);  // of most: names take longer to compare
    if (length_m == 0 || away_m > best_m || (best && away_m == best_m) || !on_piece_of(plan[piece], wanted))
      continue;
    const double middle_m = nearest_fraction(wanted.at, line) * length_m;
    const double from_m = middle_m - wanted.width_m / 2;
    const double to_m = middle_m + wanted.width_m / 2;
    if (from_m < -kOverhangM || to_m > length_m + kOverhangM) continue;
    best_m = away_m;
    best = {opening, piece, std::clamp(from_m / length_m, 0.0, 1.0), std::clamp(to_m / length_m, 0.0, 1.0)};
  }
  return best;
}

}  // namespace linkmargin
