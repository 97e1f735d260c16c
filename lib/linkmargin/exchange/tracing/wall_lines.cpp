#include "linkmargin/exchange/tracing/wall_lines.hpp"

#include "linkmargin/exchange/tracing/wall_tracks.hpp"
#include "linkmargin/geometry/welded_points.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <utility>

namespace linkmargin::exchange {
namespace {

/// A pair of faces runs side by side at least so far.
constexpr double kLeastPairM = 0.15;

/// Layers of one wall, such as two leaves and the cavity between, are together no thicker.
constexpr double kMostLayeredM = 0.45;

/// Walls are taken as drawn by double lines where so much of their lines is in pairs.
constexpr double kPairedShare = 0.3;

/// What a wall leaves open in line where another joins or crosses it, and what stands there of its faces
/// alone.
constexpr double kJunctionM = 0.6;

/// A line alone among double lines is a wall where it is longer than a cap and what a corner leaves over.
constexpr double kLeastSingleM = 0.65;

/// Middles of walls in one line.
constexpr double kMiddlesInLineM = 0.03;

/// Looks at more pairs of pieces are none of a plan.
constexpr std::size_t kMostLooks = 20'000'000;

/// A straight piece of wall within a group: its faces by `across`.
struct Body {
  Interval part;
  double low = 0;
  double high = 0;
  double middle() const { return (low + high) / 2; }
  double thickness() const { return high - low; }
};

/// Short lines across the ends of two parallel ones that run on to the same side: where a wall ends.
std::vector<bool> caps_of(std::span<const Segment2> segments) {
  WeldedPoints points(0.01);
  std::vector<std::pair<std::uint32_t, std::uint32_t>> ends;
  for (const Segment2& segment : segments) {
    const std::uint32_t from = points.weld(segment.a);
    ends.emplace_back(from, points.weld(segment.b));
  }
  std::vector<std::vector<std::size_t>> at(points.size());
  for (std::size_t i = 0; i < ends.size(); ++i) {
    at[ends[i].first].push_back(i);
    at[ends[i].second].push_back(i);
  }
  constexpr std::size_t kMostAtOnePoint = 12;
  const auto sides = [&](std::size_t cap, std::uint32_t point) {  // where lines leave it at a right angle
    std::pair<bool, bool> left_right{false, false};
    const Segment2& own = segments[cap];
    if (at[point].size() > kMostAtOnePoint) return left_right;
    for (const std::size_t other : at[point]) {
      if (other == cap) continue;
      const Segment2& line = segments[other];
      const Point2 along = ends[other].first == point ? line.b - line.a : line.a - line.b;
      const Point2 across = own.b - own.a;
      if (std::abs(dot(across, along)) > 0.1 * length(own) * length(line)) continue;
      (cross(across, along) > 0 ? left_right.first : left_right.second) = true;
    }
    return left_right;
  };
  std::vector<bool> caps(segments.size());
  for (std::size_t i = 0; i < segments.size(); ++i) {
    const double long_m = length(segments[i]);
    if (long_m < kLeastWallM || long_m > kLeastSingleM) continue;
    const auto first = sides(i, ends[i].first), second = sides(i, ends[i].second);
    caps[i] = (first.first && second.first) || (first.second && second.second);
  }
  return caps;
}

/// Finds the pairs of faces of one group.
class Pairing {
 public:
  Pairing(const TrackGroup& group, std::size_t& looks) : group_(group), looks_(looks) {}

  std::vector<Body> pair() {
    find_candidates();
    std::ranges::stable_sort(candidates_, {}, [](const Candidate& one) { return one.thickness; });
    above_.resize(group_.tracks.size());
    below_.resize(group_.tracks.size());
    for (const Candidate& one : candidates_) accept(one);
    stack_layers();
    return std::move(bodies_);
  }

  /// The parts of a track that are faces of walls.
  std::vector<Interval> faces(std::size_t track) const {
    std::vector<Interval> parts;
    for (const Side& side : above_[track]) parts.push_back(side.part);
    for (const Side& side : below_[track]) parts.push_back(side.part);
    return merged(std::move(parts), 0);
  }

 private:
  struct Candidate {
    std::size_t low = 0;  // tracks
    std::size_t high = 0;
    Interval part;
    double thickness = 0;
  };
  struct Side {
    Interval part;
    double thickness = 0;
  };

  void find_candidates() {
    const std::vector<Track>& tracks = group_.tracks;
    for (std::size_t i = 0; i < tracks.size(); ++i) {
      for (std::size_t j = i + 1; j < tracks.size(); ++j) {
        const double thickness = tracks[j].across - tracks[i].across;
        if (thickness > kMostWallM || looks_ > kMostLooks) break;
        if (thickness >= kLeastWallM) overlaps(i, j, thickness);
      }
    }
  }

  void overlaps(std::size_t low, std::size_t high, double thickness) {
    const std::vector<Interval>& one = group_.tracks[low].parts;
    const std::vector<Interval>& other = group_.tracks[high].parts;
    for (std::size_t i = 0, j = 0; i < one.size() && j < other.size();) {
      ++looks_;
      const Interval both{std::max(one[i].from, other[j].from), std::min(one[i].to, other[j].to)};
      if (both.to - both.from >= kLeastPairM) candidates_.push_back({low, high, both, thickness});
      (one[i].to < other[j].to ? i : j) += 1;
    }
  }

  static std::vector<Interval> parts_of(const std::vector<Side>& sides) {
    std::vector<Interval> parts;
    for (const Side& side : sides) parts.push_back(side.part);
    return parts;
  }

  static double thickest(const std::vector<Side>& sides, Interval over) {
    double most = 0;
    for (const Side& side : sides) {
      if (side.part.from < over.to && side.part.to > over.from) most = std::max(most, side.thickness);
    }
    return most;
  }

  void accept(const Candidate& one) {
    looks_ += above_[one.low].size() + below_[one.high].size();
    if (looks_ > kMostLooks) return;
    // Each side of a line is the face of one wall: of the thinnest, which was taken before.
    std::vector<Interval> taken = parts_of(above_[one.low]);
    std::ranges::move(parts_of(below_[one.high]), std::back_inserter(taken));
    for (const Interval& part : without(one.part, taken)) {
      if (part.to - part.from < kLeastPairM) continue;
      const double layers = thickest(below_[one.low], part) + thickest(above_[one.high], part);
      if (layers > 0 && layers + one.thickness > kMostLayeredM) continue;
      above_[one.low].push_back({part, one.thickness});
      below_[one.high].push_back({part, one.thickness});
      bodies_.push_back({part, group_.tracks[one.low].across, group_.tracks[one.high].across});
    }
  }

  /// Bodies that lie on each other are layers of one wall.
  void stack_layers() {
    constexpr std::size_t kMostLayers = 1000;
    for (std::size_t round = 0; round < kMostLayers && stack_once(); ++round) {
    }
  }

  bool stack_once() {
    std::ranges::stable_sort(bodies_, {}, &Body::low);
    for (std::size_t i = 0; i < bodies_.size(); ++i) {
      const double face = bodies_[i].high;
      for (auto on = std::ranges::lower_bound(bodies_, face, {}, &Body::low);
           on != bodies_.end() && on->low == face; ++on) {
        const Body below = bodies_[i], above = *on;
        const Interval both{std::max(below.part.from, above.part.from),
                            std::min(below.part.to, above.part.to)};
        if (both.from >= both.to) continue;
        bodies_.erase(on);
        bodies_.erase(bodies_.begin() + static_cast<std::ptrdiff_t>(i));
        bodies_.push_back({both, below.low, above.high});
        const std::vector<Interval> taken{both};
        keep_rests(below, taken);
        keep_rests(above, taken);
        return true;
      }
    }
    return false;
  }

  /// What a layer reaches beyond the others at a corner is no wall of its own.
  void keep_rests(const Body& layer, const std::vector<Interval>& taken) {
    for (const Interval& rest : without(layer.part, taken)) {
      if (rest.to - rest.from >= kMostLayeredM) bodies_.push_back({rest, layer.low, layer.high});
    }
  }

  const TrackGroup& group_;
  std::size_t& looks_;
  std::vector<Candidate> candidates_;
  std::vector<std::vector<Side>> above_, below_;  // of each track
  std::vector<Body> bodies_;
};

/// Pieces of one wall that another one joins or crosses made one; then those next to each other brought into
/// line, or joined by a step where their thickness changes.
class Joining {
 public:
  Joining(const TrackGroup& group, std::vector<Body> bodies) : group_(group), bodies_(std::move(bodies)) {}

  void join(std::vector<WallLine>& to) {
    std::ranges::stable_sort(bodies_, {}, [](const Body& body) {
      return std::pair(std::pair(body.low, body.high), body.part.from);
    });
    std::vector<Body> joined;
    for (const Body& body : bodies_) {
      if (!joined.empty() && joined.back().low == body.low && joined.back().high == body.high &&
          body.part.from - joined.back().part.to < kJunctionM) {
        joined.back().part.to = std::max(joined.back().part.to, body.part.to);
      } else {
        joined.push_back(body);
      }
    }
    steps(joined, to);
    for (const Body& body : joined)
      to.push_back({.line = group_.segment(body.part, body.middle()), .thickness_m = body.thickness()});
  }

 private:
  void steps(std::vector<Body>& joined, std::vector<WallLine>& to) {
    std::ranges::stable_sort(joined, {}, [](const Body& body) { return body.middle(); });
    for (std::size_t i = 0; i < joined.size(); ++i) {
      for (std::size_t j = i + 1; j < joined.size(); ++j) {
        Body &one = joined[i], &other = joined[j];
        const double off = other.middle() - one.middle();
        if (off > kMostWallM / 2) break;
        Body& first = one.part.from <= other.part.from ? one : other;
        Body& second = &first == &one ? other : one;
        const double gap = second.part.from - first.part.to;
        if (off <= kMiddlesInLineM) {
          bring_in_line(one, other);
        } else if (gap < kJunctionM && gap > -kJunctionM && one.high > other.low) {
          const double at = (second.part.from + first.part.to) / 2;
          first.part.to = second.part.from = at;
          to.push_back({.line = {group_.at(at, one.middle()), group_.at(at, other.middle())},
                        .thickness_m = std::min(one.thickness(), other.thickness())});
        }
      }
    }
  }

  static void bring_in_line(Body& one, Body& other) {
    const bool first = one.part.to - one.part.from >= other.part.to - other.part.from;
    const Body& leading = first ? one : other;
    Body& following = first ? other : one;
    const double half = following.thickness() / 2, middle = leading.middle();
    following.low = middle - half;
    following.high = middle + half;
  }

  const TrackGroup& group_;
  std::vector<Body> bodies_;
};

double total_length(const std::vector<TrackGroup>& groups) {
  double total = 0;
  for (const TrackGroup& group : groups) {
    for (const Track& track : group.tracks) {
      for (const Interval& part : track.parts) total += part.to - part.from;
    }
  }
  return total;
}

void add_single_lines(const TrackGroup& group, const Track& track, const std::vector<Interval>& faces,
                      std::vector<WallLine>& to) {
  std::vector<Interval> singles;
  for (const Interval& part : track.parts) {
    for (const Interval& rest : without(part, faces)) {
      if (rest.to - rest.from > kLeastSingleM) singles.push_back(rest);
    }
  }
  for (const Interval& part : merged(std::move(singles), kJunctionM))
    to.push_back({.line = group.segment(part, track.across)});
}

}  // namespace

WallLines middle_lines(std::span<const WallLine> drawn) {
  WallLines result;
  std::vector<Segment2> segments;
  for (const WallLine& wall : drawn) {
    if (wall.thickness_m > 0) {
      result.lines.push_back(wall);
    } else {
      segments.push_back(wall.line);
    }
  }
  const std::vector<bool> caps = caps_of(segments);
  std::vector<Segment2> faces;
  for (std::size_t i = 0; i < segments.size(); ++i) {
    if (!caps[i]) faces.push_back(segments[i]);
  }
  const std::vector<TrackGroup> groups = track_groups(faces);
  std::vector<WallLine> lines;
  std::size_t looks = 0;
  double paired_m = 0;
  for (const TrackGroup& group : groups) {
    Pairing pairing(group, looks);
    std::vector<Body> bodies = pairing.pair();
    result.too_many = looks > kMostLooks;
    if (result.too_many) return result;
    for (std::size_t i = 0; i < group.tracks.size(); ++i) {
      const std::vector<Interval> parts = pairing.faces(i);
      for (const Interval& part : parts) paired_m += part.to - part.from;
      add_single_lines(group, group.tracks[i], parts, lines);
    }
    Joining(group, std::move(bodies)).join(lines);
  }
  result.paired = paired_m > kPairedShare * total_length(groups) && paired_m > 0;
  if (!result.paired) {
    lines.clear();
    for (const TrackGroup& group : track_groups(segments)) {
      for (const Track& track : group.tracks) {
        for (const Interval& part : track.parts) lines.push_back({.line = group.segment(part, track.across)});
      }
    }
  }
  std::ranges::move(lines, std::back_inserter(result.lines));
  return result;
}

}  // namespace linkmargin::exchange
