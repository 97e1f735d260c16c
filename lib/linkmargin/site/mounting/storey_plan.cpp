#include "linkmargin/site/mounting/storey_plan.hpp"

#include "linkmargin/site/mounting/mounting_rules.hpp"
#include "linkmargin/site/validation/checks.hpp"
#include "linkmargin/site/wall_plan.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace linkmargin {
namespace {

/// Wider openings have two leaves, still wider ones a shutter or a sliding door (common practice).
constexpr double kWidestLeafM = 1.3;
constexpr double kWidestPairM = 2.2;

/// So far before an opening a radio would hang in its way.
constexpr double kBeforeOpeningM = 0.25;

/// What rounding may take.
constexpr double kSlackM = 0.001;

/// What is so near to the line of a wall goes on with it.
constexpr double kInLineM = 0.02;

double swept_m(const Opening& opening) {
  if (!opening.opens || opening.leaf.material == kNoMaterial || opening.width_m > kWidestPairM) return 0;
  return opening.width_m > kWidestLeafM ? opening.width_m / 2 : opening.width_m;
}

Box2 box_round(const Polygon2& points, double margin_m) {
  const Box2 box = bounding_box(points);
  const Point2 margin{margin_m, margin_m};
  return {box.min - margin, box.max + margin};
}

bool holds(const Box2& box, Point2 p) {
  return p.x >= box.min.x && p.x <= box.max.x && p.y >= box.min.y && p.y <= box.max.y;
}

/// Glass takes no screw, and a fence none that would stay; before metal there is a board.
bool holds_a_screw(const Site& site, const Construction& construction) {
  const auto material = site.materials.find(construction.material);
  if (material == site.materials.end()) return true;
  const std::string& group = material->second.group;
  return group != "fence" && group != "plain glass" && group != "dense glass";
}

bool stands_at(double base_m, double top_m, double clear_m, double height_m) {
  return height_m >= base_m - clear_m && height_m <= top_m + clear_m;
}

/// Whether a leaf that is hung at `hinge` and closes towards `other` passes over a place, or a housing there.
bool sweeps(Point2 hinge, Point2 other, double leaf_m, Point2 at) {
  if (leaf_m == 0) return false;
  const Point2 way = at - hinge;
  return dot(way, other - hinge) >= -kFrameM * distance(hinge, other) && std::hypot(way.x, way.y) <= leaf_m;
}

}  // namespace

bool WallOpening::stands_at(double height_m, double clear_m) const {
  return height_m > sill_m - clear_m + kSlackM && height_m < head_m + clear_m - kSlackM;
}

StoreyPlan::StoreyPlan(const Site& site, std::size_t storey) : storey_(site.storeys[storey]) {
  const std::vector<WallPiece> plan = wall_plan(storey_);
  for (const WallPiece& piece : plan) {
    const double half_m = piece.construction ? half_thickness_m(site, *piece.construction) : 0;
    walls_.push_back({piece.line, box_round({piece.line.a, piece.line.b}, half_m + kCornerClearM), half_m,
                      piece.height_m, piece.construction.has_value()});
  }
  for (std::size_t w = 0; w < plan.size(); ++w) {
    const WallPiece& piece = plan[w];
    const double wall_m = length(piece.line);
    if (!piece.construction || wall_m == 0 || !holds_a_screw(site, *piece.construction)) continue;
    const Point2 along = (1 / wall_m) * (piece.line.b - piece.line.a);
    for (const double turn : {1.0, -1.0}) {
      const Point2 off = turn * Point2{-along.y, along.x};
      WallFace face{.line = piece.line,
                    .off = off,
                    .half_wall_m = walls_[w].half_m,
                    .hung_m = mounted_off_m(site, *piece.construction),
                    .top_m = piece.height_m,
                    .traced = !piece.traced.empty(),
                    .from_m = corner_m(w, piece.line.a, off),
                    .to_m = wall_m - corner_m(w, piece.line.b, off)};
      const Point2 before = at_fraction(piece.line, 0.5) + (face.half_wall_m + kMountedOffM) * face.off;
      if (!face.traced) face.room = checks::room_at(storey_, before);
      faces_.push_back(face);
    }
  }
  for (std::size_t i = 0; i < storey_.openings.size(); ++i) {
    const auto place = locate_opening(plan, storey_, i);
    if (!place) continue;
    const Opening& opening = storey_.openings[i];
    const Segment2& line = plan[place->piece].line;
    openings_.push_back({i,
                         {at_fraction(line, place->from), at_fraction(line, place->to)},
                         walls_[place->piece].half_m,
                         opening.sill_m,
                         opening.sill_m + opening.height_m,
                         swept_m(opening)});
  }
  for (const Obstacle& obstacle : storey_.obstacles) {
    const auto material = site.materials.find(obstacle.construction.material);
    const bool metal = material != site.materials.end() && is_metal(material->second);
    const double clear_m = metal ? kMetalClearM : kObstacleClearM;
    bodies_.push_back({obstacle.corners, box_round(obstacle.corners, clear_m), obstacle.base_m,
                       obstacle.base_m + obstacle.height_m, clear_m});
  }
}

/// What a face keeps free at an end of its piece: the wall that it meets there on its side, and the corner;
/// nothing where it goes on in its line.
double StoreyPlan::corner_m(std::size_t wall, Point2 end, Point2 off) const {
  double half_m = -1;
  for (std::size_t other = 0; other < walls_.size(); ++other) {
    const Segment2& line = walls_[other].line;
    if (other == wall || !walls_[other].stands || distance_to_segment(end, line) >= kInLineM) continue;
    if (std::max(dot(line.a - end, off), dot(line.b - end, off)) > kInLineM)
      half_m = std::max(half_m, walls_[other].half_m);
  }
  if (half_m >= 0) return half_m + kCornerClearM;
  return goes_on(wall, end) ? 0 : kCornerClearM;
}

/// Whether another piece goes on from the end of one in its line.
bool StoreyPlan::goes_on(std::size_t wall, Point2 end) const {
  const Segment2& line = walls_[wall].line;
  const Point2 far = end == line.a ? line.b : line.a;
  for (std::size_t other = 0; other < walls_.size(); ++other) {
    const Segment2& next = walls_[other].line;
    if (other == wall || !walls_[other].stands || (next.a != end && next.b != end)) continue;
    const Point2 beyond = next.a == end ? next.b : next.a;
    const double wall_m = length(line);
    if (dot(end - far, beyond - end) > 0 && std::abs(cross(end - far, beyond - end)) <= kInLineM * wall_m)
      return true;
  }
  return false;
}

bool StoreyPlan::is_clear(Point2 at, double height_m, const WallFace& on, double opening_clear_m) const {
  const auto in_corner = [&](const Wall& wall) {
    if (!wall.stands || height_m > wall.top_m || !holds(wall.box, at)) return false;
    const double before_m =
        std::max(dot(wall.line.a - on.line.a, on.off), dot(wall.line.b - on.line.a, on.off));
    return before_m > kSlackM && distance_to_segment(at, wall.line) < wall.half_m + kCornerClearM - kSlackM;
  };
  return std::ranges::none_of(walls_, in_corner) && is_open(at, height_m, opening_clear_m);
}

bool StoreyPlan::is_open(Point2 at, double height_m, double opening_clear_m,
                         std::optional<std::size_t> but_for) const {
  const auto taken_by = [&](const Body& body) {
    return stands_at(body.base_m, body.top_m, body.clear_m, height_m) && holds(body.box, at) &&
           (contains(body.corners, at) || distance_to_edges(body.corners, at) < body.clear_m);
  };
  const auto in_way = [&](const WallOpening& opening) {
    if (opening.opening == but_for || !opening.stands_at(height_m, opening_clear_m)) return false;
    const Segment2& line = opening.line;
    const double width_m = length(line);
    const Point2 along = (1 / width_m) * (line.b - line.a);
    const double on_m = dot(at - line.a, along);
    const double off_m = std::abs(cross(along, at - line.a));
    const bool before = on_m > kSlackM - opening_clear_m && on_m < width_m + opening_clear_m - kSlackM &&
                        off_m < opening.half_wall_m + kBeforeOpeningM;
    return before || sweeps(line.a, line.b, opening.swept_m, at) ||
           sweeps(line.b, line.a, opening.swept_m, at);
  };
  return std::ranges::none_of(bodies_, taken_by) && std::ranges::none_of(openings_, in_way);
}

double StoreyPlan::pier_m(const WallFace& face, double along_m, double height_m,
                          double opening_clear_m) const {
  const Point2 along = (1 / length(face.line)) * (face.line.b - face.line.a);
  double from_m = -std::numeric_limits<double>::infinity();
  double to_m = std::numeric_limits<double>::infinity();
  const auto ends_at = [&](double end_m) {
    if (end_m <= along_m) from_m = std::max(from_m, end_m);
    if (end_m >= along_m) to_m = std::min(to_m, end_m);
  };
  const auto in_line = [&](const Segment2& line) {
    return std::abs(cross(along, line.a - face.line.a)) <= kInLineM &&
           std::abs(cross(along, line.b - face.line.a)) <= kInLineM;
  };
  const auto on_line_m = [&](Point2 p) { return dot(p - face.line.a, along); };
  for (const WallFace& other : faces_) {
    if (dot(other.off, face.off) <= 0 || height_m > other.top_m || !in_line(other.line)) continue;
    const double begin_m = on_line_m(other.line.a);
    const double way = on_line_m(other.line.b) >= begin_m ? 1 : -1;
    if (other.from_m > 0) ends_at(begin_m + way * (other.from_m - kCornerClearM));
    if (other.to_m < length(other.line)) ends_at(begin_m + way * (other.to_m + kCornerClearM));
  }
  for (const WallOpening& opening : openings_) {
    if (!opening.stands_at(height_m, opening_clear_m) || !in_line(opening.line)) continue;
    ends_at(on_line_m(opening.line.a));
    ends_at(on_line_m(opening.line.b));
  }
  return to_m - from_m;
}

bool StoreyPlan::is_parted(Point2 from, Point2 to) const {
  return std::ranges::any_of(walls_, [&](const Wall& wall) {
    return wall.stands && crosses({from, to}, wall.line);
  });
}

double StoreyPlan::off_walls_m(const Room& room, Point2 at, double height_m) const {
  double off_m = distance_to_edges(room.corners, at);
  for (const TracedWall& wall : storey_.walls) {
    if (height_m <= wall.height_m.value_or(storey_.height_m))
      off_m = std::min(off_m, distance_to_segment(at, wall.line));
  }
  return off_m;
}

}  // namespace linkmargin
