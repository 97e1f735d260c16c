#include "linkmargin/exchange/tracing/opening_marks.hpp"

#include "linkmargin/exchange/tracing/wall_tracks.hpp"
#include "linkmargin/geometry/polygon.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <utility>

namespace linkmargin::exchange {
namespace {

/// Leaves of doors; wider ones have two.
constexpr double kLeastLeafM = 0.4;
constexpr double kMostLeafM = 3.5;

constexpr double kLeastOpeningM = 0.3;
constexpr double kMostOpeningM = 12;

/// A door or window is drawn no farther from the faces of its wall.
constexpr double kOffWallM = 0.12;
constexpr double kOffGapM = 0.3;

/// Marks of one opening that lie so near in line are of one opening.
constexpr double kOneOpeningM = 0.12;

/// 15 degrees.
constexpr double kAlikeSine = 0.26;

/// What is drawn of a door or window, along a wall or across one.
struct Mark {
  Segment2 span;
  OpeningSort sort = OpeningSort::door;
  std::size_t swing = kNoSwing;  // of a door: two spans have the same, one of which is its leaf held open
  std::uint32_t layer = 0;
  bool used = false;
  static constexpr std::size_t kNoSwing = static_cast<std::size_t>(-1);
};

std::optional<OpeningSort> sort_of(const std::optional<LayerRole>& role) {
  if (role == LayerRole::doors) return OpeningSort::door;
  if (role == LayerRole::windows) return OpeningSort::window;
  return {};
}

bool runs_alike(Segment2 one, Segment2 other) {
  const Point2 left = one.b - one.a, right = other.b - other.a;
  return std::abs(cross(left, right)) < kAlikeSine * length(one) * length(other);
}

class OpeningFinder {
 public:
  OpeningFinder(const std::vector<WallLine>& walls, const std::vector<std::optional<LayerRole>>& roles,
                Drawing& drawing)
      : walls_(walls), roles_(roles), drawing_(drawing) {}

  FoundOpenings find(const std::vector<WallGap>& gaps) {
    swings();
    lines();
    found_.too_many = marks_.size() > kMostMarks;
    if (found_.too_many) return std::move(found_);
    for (const WallGap& gap : gaps) in_gap(gap);
    on_walls();
    between_walls();
    count_unused();
    return std::move(found_);
  }

 private:
  void swings() {
    for (const DrawnArc& arc : drawing_.arcs) {
      if (roles_[arc.layer] != LayerRole::doors || marks_.size() > kMostMarks) continue;
      const double radius = distance(arc.centre, arc.start);
      const bool round = std::abs(radius - distance(arc.centre, arc.end)) < 0.05 * radius;
      if (!round || radius < kLeastLeafM || radius > kMostLeafM) continue;
      const double turn = std::abs(cross(arc.start - arc.centre, arc.end - arc.centre)) / (radius * radius);
      if (turn < 0.4) continue;  // neither a quarter turn nor near one
      for (const Point2 end : {arc.start, arc.end})
        marks_.push_back({{arc.centre, end}, OpeningSort::door, swings_.size(), arc.layer});
      swings_.push_back({arc.centre, radius});
    }
  }

  /// Within a swing lie the leaf and the sill: the swing says it all.
  bool in_swing(Segment2 line) const {
    constexpr double kSlack = 1.15;
    return std::ranges::any_of(swings_, [&](const std::pair<Point2, double>& swing) {
      return distance(swing.first, line.a) < kSlack * swing.second &&
             distance(swing.first, line.b) < kSlack * swing.second;
    });
  }

  void lines() {
    for (const DrawnLine& line : drawing_.lines) {
      const auto sort = sort_of(roles_[line.layer]);
      if (!sort || marks_.size() > kMostMarks) continue;
      std::vector<Segment2> pieces = edges(line.points);
      if (!line.closed) pieces.pop_back();
      for (const Segment2& piece : pieces) {
        const double long_m = length(piece);
        if (long_m < kLeastOpeningM || long_m > kMostOpeningM) continue;
        if (*sort == OpeningSort::door && in_swing(piece)) continue;
        marks_.push_back({.span = piece, .sort = *sort, .layer = line.layer});
      }
    }
  }

  void use(Mark& mark) {
    mark.used = true;
    if (mark.swing == Mark::kNoSwing) return;
    for (Mark& other : marks_) {
      if (other.swing == mark.swing) other.used = true;
    }
  }

  void in_gap(const WallGap& gap) {
    const double long_m = length(gap.line);
    const Point2 along = (1 / long_m) * (gap.line.b - gap.line.a);
    bool door = false, window = false;
    std::vector<Interval> drawn;
    for (Mark& mark : marks_) {
      if (!runs_alike(mark.span, gap.line)) continue;
      const double a = dot(mark.span.a - gap.line.a, along), b = dot(mark.span.b - gap.line.a, along);
      const double off = cross(along, at_fraction(mark.span, 0.5) - gap.line.a);
      constexpr double kSlackM = 0.25;
      if (std::min(a, b) < -kSlackM || std::max(a, b) > gap.width_m + kSlackM ||
          std::abs(off) > gap.thickness_m / 2 + kOffGapM)
        continue;
      use(mark);
      (mark.sort == OpeningSort::window ? window : door) = true;
      drawn.push_back({std::min(a, b), std::max(a, b)});
    }
    constexpr double kRoundingM = 0.011;
    const bool as_door = gap.width_m > kLeastDoorM - kRoundingM && gap.width_m < kMostDoorM + kRoundingM;
    if (!as_door && !mostly_drawn(std::move(drawn), gap.width_m)) return;
    found_.bridges.push_back({.line = gap.line, .thickness_m = gap.thickness_m});
    found_.openings.push_back({gap.line.a + gap.width_m / 2 * along, along, gap.width_m,
                               door     ? OpeningSort::door
                               : window ? OpeningSort::window
                                        : OpeningSort::gap});
  }

  static bool mostly_drawn(std::vector<Interval> drawn, double width_m) {
    double covered = 0;
    for (const Interval& part : merged(std::move(drawn), 0)) covered += part.to - part.from;
    return covered > 0.6 * width_m;
  }

  /// The wall that a mark lies on, and how far off its faces; nothing where there is none.
  std::optional<std::pair<std::size_t, double>> wall_of(const Mark& mark) const {
    std::optional<std::pair<std::size_t, double>> best;
    for (std::size_t i = 0; i < walls_.size(); ++i) {
      const WallLine& wall = walls_[i];
      if (wall.open || !runs_alike(mark.span, wall.line)) continue;
      const double off = std::max(0.0, std::max(distance_to_segment(mark.span.a, wall.line),
                                                distance_to_segment(mark.span.b, wall.line)) -
                                           wall.thickness_m / 2);
      if (off <= kOffWallM && (!best || off < best->second)) best = {i, off};
    }
    return best;
  }

  void on_walls() {
    std::map<std::pair<std::size_t, OpeningSort>, std::vector<Interval>> parts;
    for (Mark& mark : marks_) {
      if (mark.used) continue;
      auto wall = wall_of(mark);
      if (mark.swing != Mark::kNoSwing && wall) {
        const auto other = std::ranges::find_if(
            marks_, [&](const Mark& one) { return one.swing == mark.swing && &one != &mark; });
        const auto other_wall = wall_of(*other);
        if (other_wall && other_wall->second < wall->second) continue;  // its turn comes
      }
      if (!wall) continue;
      use(mark);
      const Segment2 line = walls_[wall->first].line;
      const Point2 along = (1 / length(line)) * (line.b - line.a);
      const double a = dot(mark.span.a - line.a, along), b = dot(mark.span.b - line.a, along);
      parts[{wall->first, mark.sort}].push_back({std::min(a, b), std::max(a, b)});
    }
    for (auto& [place, intervals] : parts) {
      const Segment2 line = walls_[place.first].line;
      const Point2 along = (1 / length(line)) * (line.b - line.a);
      for (const Interval& part : merged(std::move(intervals), kOneOpeningM)) {
        found_.openings.push_back(
            {line.a + (part.from + part.to) / 2 * along, along, part.to - part.from, place.second});
      }
    }
  }

  /// An opening that takes up all of its wall, from one wall across to the next.
  void between_walls() {
    for (Mark& mark : marks_) {
      if (mark.used || mark.swing != Mark::kNoSwing) continue;
      const auto a = wall_across(mark.span.a, mark.span), b = wall_across(mark.span.b, mark.span);
      if (!a || !b || length({*a, *b}) < kLeastOpeningM) continue;
      const Point2 along = (1 / length({*a, *b})) * (*b - *a);
      const bool known = std::ranges::any_of(found_.openings, [&](const FoundOpening& one) {
        return distance(one.middle, 0.5 * (*a + *b)) < (one.width_m + length(mark.span)) / 2;
      });
      mark.used = true;
      if (known) continue;
      found_.bridges.push_back({.line = {*a, *b}});
      found_.openings.push_back({0.5 * (*a + *b), along, length(mark.span), mark.sort});
    }
  }

  /// Where the end of a mark meets the middle of a wall across it.
  std::optional<Point2> wall_across(Point2 end, Segment2 span) const {
    for (const WallLine& wall : walls_) {
      if (wall.open || runs_alike(span, wall.line)) continue;
      if (distance_to_segment(end, wall.line) <= wall.thickness_m / 2 + kJoinM)
        return at_fraction(wall.line, nearest_fraction(end, wall.line));
    }
    return {};
  }

  void count_unused() {
    for (const Mark& mark : marks_) {
      if (mark.used) continue;
      const bool swing = mark.swing != Mark::kNoSwing;
      if (swing && &mark != &marks_[2 * mark.swing]) continue;  // its two spans come first, as pairs
      if (!swing && mark.sort == OpeningSort::door) continue;   // jambs, leaves held open
      ++drawing_.dropped[{DropReason::no_wall, swing ? "ARC" : "LINE", drawing_.layers[mark.layer]}];
    }
  }

  const std::vector<WallLine>& walls_;
  const std::vector<std::optional<LayerRole>>& roles_;
  Drawing& drawing_;
  std::vector<Mark> marks_;
  std::vector<std::pair<Point2, double>> swings_;
  FoundOpenings found_;
};

}  // namespace

FoundOpenings find_openings(const std::vector<WallLine>& walls, const std::vector<WallGap>& gaps,
                            const std::vector<std::optional<LayerRole>>& roles, Drawing& drawing) {
  return OpeningFinder(walls, roles, drawing).find(gaps);
}

}  // namespace linkmargin::exchange
