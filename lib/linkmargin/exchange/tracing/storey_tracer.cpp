#include "linkmargin/exchange/tracing/storey_tracer.hpp"

#include "linkmargin/exchange/tracing/opening_marks.hpp"
#include "linkmargin/exchange/tracing/room_names.hpp"
#include "linkmargin/exchange/tracing/traced_faces.hpp"
#include "linkmargin/exchange/tracing/traced_openings.hpp"
#include "linkmargin/exchange/tracing/wall_joints.hpp"
#include "linkmargin/exchange/tracing/wall_tracks.hpp"
#include "linkmargin/geometry/near_boxes.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/site/wall_plan.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

namespace linkmargin::exchange {
namespace {

/// Outlines of rooms run on the middle of walls where so much of them lies on walls.
constexpr double kOnWallsShare = 0.5;
constexpr double kOnWallM = 0.05;
constexpr double kLeastOpenEdgeM = 0.3;
constexpr double kSameWaySine = 0.09;
constexpr std::size_t kMostEdgeLooks = 50'000'000;

/// A wall differs from the usual one where its thickness does by more.
constexpr double kOtherThicknessM = 0.02;

std::vector<Segment2> pieces_of(const DrawnLine& line) {
  std::vector<Segment2> pieces = edges(line.points);
  if (!line.closed) pieces.pop_back();
  return pieces;
}

/// The value that half of the length lies under; nothing where nothing is known.
std::optional<double> median(std::vector<std::pair<double, double>> values_and_lengths) {
  std::ranges::sort(values_and_lengths);
  double total = 0, passed = 0;
  for (const auto& one : values_and_lengths) total += one.second;
  for (const auto& [value, long_m] : values_and_lengths) {
    passed += long_m;
    if (passed >= total / 2) return std::round(value * 100) / 100;
  }
  return {};
}

class StoreyTracer {
 public:
  StoreyTracer(Drawing& drawing, const std::vector<std::optional<LayerRole>>& roles, TracedPlan& plan,
               Faults& faults)
      : drawing_(drawing), roles_(roles), plan_(plan), faults_(faults) {}

  std::optional<TracedStorey> trace() {
    collect();
    const std::vector<WallLine>& drawn = walls_.empty() ? room_edges_ : walls_;
    if (drawn.size() > kMostWallPieces) return too_many();
    WallLines middles = middle_lines(drawn);
    if (middles.too_many || middles.lines.size() > kMostWalls) return too_many();
    if (middles.paired) ++plan_.double_walls;
    std::vector<WallLine> lines = std::move(middles.lines);
    const std::vector<JoinedEnds> joined = join_ends(lines);
    FoundOpenings found = find_openings(lines, gaps_before(lines, joined), roles_, drawing_);
    if (found.too_many) return too_many();
    std::ranges::move(found.bridges, std::back_inserter(lines));
    if (!walls_.empty()) add_open_edges(lines);
    if (crossings(lines) > kMostCrossings) return too_many();
    TracedFaces faces = traced_faces(std::move(lines));
    if (static_cast<double>(faces.rooms.size()) > limits::kRooms.max) return too_many();
    plan_.small_faces += faces.small_faces;
    return storey(faces, found.openings);
  }

 private:
  void collect() {
    for (const DrawnLine& line : drawing_.lines) {
      const auto role = roles_[line.layer];
      if (!role || role == LayerRole::names) {
        ++drawing_.dropped[{DropReason::no_role, "", drawing_.layers[line.layer]}];
      } else if (role == LayerRole::walls) {
        for (const Segment2& piece : pieces_of(line))
          walls_.push_back({.line = piece, .thickness_m = std::min(line.width, kMostThicknessM)});
      } else if (role == LayerRole::rooms && line.closed) {
        for (const Segment2& piece : pieces_of(line)) room_edges_.push_back({.line = piece});
        if (!line.name.empty()) texts_.push_back({label_point(line.points), 0, line.name, true});
      }
    }
    const bool any_names = std::ranges::find(roles_, LayerRole::names) != roles_.end();
    for (const DrawnText& text : drawing_.texts) {
      const auto role = roles_[text.layer];
      const bool of_room = role == LayerRole::names || role == LayerRole::rooms;
      if (of_room || !any_names) {
        texts_.push_back({text.at, text.height, text.text, of_room});
      } else if (!role) {
        ++drawing_.dropped[{DropReason::no_role, "TEXT", drawing_.layers[text.layer]}];
      }
    }
  }

  std::optional<TracedStorey> too_many() {
    faults_.add({}, DiagnosticCode::too_large, "",
                "there are more lines of walls, doors and windows than can be traced",
                "say with --layers which layers hold the plan");
    return {};
  }

  static std::size_t crossings(const std::vector<WallLine>& lines) {
    std::vector<Box2> boxes;
    for (const WallLine& line : lines) boxes.push_back(bounding_box(line.line));
    std::size_t count = 0;
    for_near_boxes(boxes, 0, [&](std::size_t i, std::size_t j) {
      count += crosses(lines[i].line, lines[j].line) ? 1 : 0;
      return count <= kMostCrossings;
    });
    return count;
  }

  /// Edges of rooms that no wall lies on part rooms without a wall.
  void add_open_edges(std::vector<WallLine>& lines) const {
    if (room_edges_.size() * lines.size() > kMostEdgeLooks) return;
    std::vector<WallLine> open;
    double total = 0, covered = 0;
    for (const WallLine& edge : room_edges_) {
      const double long_m = length(edge.line);
      if (long_m < kLeastOpenEdgeM) continue;
      const Point2 along = (1 / long_m) * (edge.line.b - edge.line.a);
      std::vector<Interval> on_walls;
      for (const WallLine& wall : lines) {
        const Segment2 line = wall.line;
        if (std::abs(cross(along, line.b - line.a)) > kSameWaySine * length(line)) continue;
        if (std::abs(cross(along, at_fraction(line, 0.5) - edge.line.a)) > kOnWallM) continue;
        const double a = dot(line.a - edge.line.a, along), b = dot(line.b - edge.line.a, along);
        on_walls.push_back({std::min(a, b), std::max(a, b)});
      }
      double left = 0;
      for (const Interval& part : without({0, long_m}, merged(std::move(on_walls), kLeastOpenEdgeM))) {
        left += part.to - part.from;
        if (part.to - part.from < kLeastOpenEdgeM) continue;
        open.push_back(
            {.line = {edge.line.a + part.from * along, edge.line.a + part.to * along}, .open = true});
      }
      total += long_m;
      covered += long_m - left;
    }
    if (covered >= kOnWallsShare * total) std::ranges::move(open, std::back_inserter(lines));
  }

  TracedStorey storey(const TracedFaces& faces, const std::vector<FoundOpening>& openings) {
    TracedStorey result{.name = drawing_.level, .level_m = drawing_.level_m, .height_m = drawing_.height_m};
    RoomNames found = room_names(faces.rooms, texts_);
    std::ranges::move(found.several_names, std::back_inserter(plan_.several_names));
    const std::vector<std::string>& names = found.names;
    for (std::size_t i = 0; i < names.size(); ++i)
      result.rooms.push_back({.name = names[i], .corners = faces.rooms[i]});
    result.walls = faces.loose;
    thicknesses(faces, result);
    const bool doors_drawn = std::ranges::find(roles_, LayerRole::doors) != roles_.end();
    plan_.openings_left_out += place_openings(openings, doors_drawn, result);
    return result;
  }

  static void thicknesses(const TracedFaces& faces, TracedStorey& result) {
    std::vector<std::pair<double, double>> outer, inner;
    for (const auto& [pair, shared] : faces.shared) {
      if (shared.known_m > 0)
        (pair.second == TracedFaces::kNoRoom ? outer : inner)
            .emplace_back(shared.thickness_times_m / shared.known_m, shared.known_m);
    }
    std::set<std::pair<std::string, std::string>> known;
    Storey as_site;
    as_site.rooms = result.rooms;
    for (const WallPiece& wall : wall_plan(as_site)) known.insert(std::minmax(wall.first, wall.second));
    result.outer_wall_m = median(std::move(outer));
    result.inner_wall_m = median(std::move(inner));
    const auto name = [&](std::size_t room) {
      return room == TracedFaces::kNoRoom ? std::string(kOutside) : result.rooms[room].name;
    };
    for (const auto& [pair, shared] : faces.shared) {
      const auto usual = pair.second == TracedFaces::kNoRoom ? result.outer_wall_m : result.inner_wall_m;
      TracedBoundary boundary{name(pair.first), name(pair.second)};
      boundary.open = shared.open_m > shared.wall_m;
      if (!boundary.open && shared.known_m > 0)
        boundary.thickness_m = std::round(shared.thickness_times_m / shared.known_m * 100) / 100;
      const bool differs =
          boundary.thickness_m && usual && std::abs(*boundary.thickness_m - *usual) > kOtherThicknessM;
      // A corner alone is no wall of the site file.
      if (!known.contains(std::minmax(boundary.first, boundary.second))) continue;
      if (boundary.open || differs) result.boundaries.push_back(std::move(boundary));
    }
  }

  static constexpr double kMostThicknessM = limits::kThicknessM.max;

  Drawing& drawing_;
  const std::vector<std::optional<LayerRole>>& roles_;
  TracedPlan& plan_;
  Faults& faults_;
  std::vector<WallLine> walls_;
  std::vector<WallLine> room_edges_;
  std::vector<NameText> texts_;
};

}  // namespace

std::optional<TracedStorey> traced_storey(Drawing& drawing,
                                          const std::vector<std::optional<LayerRole>>& roles,
                                          TracedPlan& plan, Faults& faults) {
  return StoreyTracer(drawing, roles, plan, faults).trace();
}

}  // namespace linkmargin::exchange
