#include "linkmargin/link/wall_builder.hpp"

#include <algorithm>
#include <utility>

namespace linkmargin {
namespace {

/// How far what closes such a joint reaches past the other wall's line.
constexpr double kPastM = 0.002;

/// Length 1.
Point2 normal_of(Segment2 line) {
  const Point2 along = (1 / length(line)) * (line.b - line.a);
  return {-along.y, along.x};
}

bool is_low(const WallPiece& piece, const Storey& storey) {
  return piece.height_m < storey.height_m - kJointM;
}

}  // namespace

std::string wall_name(const WallPiece& piece) {
  if (!piece.traced.empty()) return piece.traced;
  if (piece.second == kOutside) return "outer wall of " + piece.first;
  return "wall between " + piece.first + " and " + piece.second;
}

std::uint32_t WallBuilder::add_wall(Wall wall) {
  wall.line = static_cast<std::uint32_t>(scene_.wall_lines_.size());
  scene_.wall_lines_.emplace_back();
  scene_.walls_.push_back(wall);
  return static_cast<std::uint32_t>(scene_.walls_.size() - 1);
}

void WallBuilder::add_panel(Segment2 base, double bottom_m, double top_m, std::uint32_t element) {
  if (base.a == base.b || bottom_m >= top_m) return;
  scene_.panels_.push_back({base, bottom_m, top_m, normal_, element, wall_});
}

void WallBuilder::add_gap(Gap gap) {
  gap.normal = normal_;
  gap.line = scene_.walls_[wall_].line;
  add_panel(gap.base, gap.bottom_m, gap.top_m, gap.element);
  scene_.wall_lines_[gap.line].gaps.push_back(static_cast<std::uint32_t>(scene_.gaps_.size()));
  scene_.gaps_.push_back(std::move(gap));
}

void WallBuilder::add_opening(const Cut& cut, Segment2 base, double top_m, std::uint32_t element) {
  const double sill_m = storey_.level_m + cut.opening->sill_m;
  const double head_m = std::min(top_m, sill_m + cut.opening->height_m);
  add_panel(base, reach_.bottom_m, sill_m, element);
  add_panel(base, head_m, top_m, element);
  if (base.a == base.b || sill_m >= head_m) return;
  const bool walled = element != kNone;  // in open plan a leaf stands alone, and has no frame to bend round
  add_gap({.name = cut.opening->name,
           .base = base,
           .bottom_m = sill_m,
           .top_m = head_m,
           .edge_a = walled,
           .edge_b = walled,
           .edge_bottom = walled && cut.opening->sill_m > kJointM,
           .edge_top = walled && head_m < top_m - kJointM,
           .normal = {},
           .element = cut.leaf});
}

void WallBuilder::add(const WallPiece& piece, std::uint32_t element, const std::vector<Cut>& cuts,
                      std::uint32_t roof) {
  if (element == kNone && cuts.empty()) return;
  normal_ = normal_of(piece.line);
  const double floor_m = reach_.bottom_m;
  const double top_m = is_low(piece, storey_) ? storey_.level_m + piece.height_m : reach_.top_m;
  wall_ = add_wall({.element = element, .base = piece.line, .bottom_m = floor_m, .top_m = top_m});

  const auto add_solid = [&](Segment2 base) {
    if (element != kNone) add_panel(base, floor_m, top_m, element);
  };
  Point2 start = piece.line.a;
  for (const Cut& cut : cuts) {
    const Point2 from = snapped(at_fraction(piece.line, cut.from));
    const Point2 to = snapped(at_fraction(piece.line, cut.to));
    add_solid({start, from});
    add_opening(cut, {from, to}, top_m, element);
    start = to;
  }
  add_solid({start, piece.line.b});
  if (element == kNone) return;
  const auto position = static_cast<std::size_t>(&piece - plan_.data());
  wall_of_[position] = wall_;
  for (const bool at_b : {false, true}) add_end(position, at_b, wall_end(plan_, position, at_b));
  if (is_low(piece, storey_)) {
    add_top(piece);
  } else if (roof != kNone) {
    scene_.walls_[wall_].eaves = roof;
    add_eaves(piece, element, roof);
  }
}

void WallBuilder::add_joint(const WallPiece& piece, Point2 end, const WallPiece& other,
                            std::uint32_t element) {
  const Point2 on = at_fraction(other.line, nearest_fraction(end, other.line));
  const double chink_m = distance(end, on);
  if (chink_m <= kGridPitchM) return;
  const Point2 past = snapped(on + (kPastM / chink_m) * (on - end));  // surely on the other wall's far side
  scene_.joints_.push_back({{end, past},
                            storey_.level_m,
                            storey_.level_m + piece.height_m,
                            normal_of({end, past}),
                            element,
                            wall_});
}

void WallBuilder::add_end(std::size_t piece, bool at_b, const WallEnd& end) {
  const WallPiece& of = plan_[piece];
  const Point2 tip = at_b ? of.line.b : of.line.a;
  if (end.comes == WallEnd::Comes::to_joint) {
    add_joint(of, tip, plan_[end.other], scene_.walls_[wall_].element);
    return;
  }
  if (end.comes == WallEnd::Comes::to_opposite) {
    add_between(piece, at_b, end);
    return;
  }
  const bool to_air = end.comes == WallEnd::Comes::to_air;
  // Over a wall of less than half its height the air goes on, and is that wall's own gap.
  const bool bounded = !to_air && plan_[end.other].height_m >= of.height_m / 2;
  add_gap({.name = "end of " + wall_name(of),
           .base = {tip, snapped(end.at)},
           .bottom_m = storey_.level_m,
           .top_m = storey_.level_m + of.height_m,
           .edge_a = true,
           .edge_b = bounded,
           .open_b = to_air,
           .open_top = is_low(of, storey_),
           .normal = {}});
  scene_.panels_.back().beyond = true;
}

/// What lies between two ends that face each other, when the second of them is added.
void WallBuilder::add_between(std::size_t piece, bool at_b, const WallEnd& end) {
  if (wall_of_[end.other] == kNone) return;
  const WallPiece& of = plan_[piece];
  const WallPiece& other = plan_[end.other];
  const std::uint32_t own = wall_, facing = wall_of_[end.other];
  join_lines(scene_.walls_[own].line, scene_.walls_[facing].line);
  const double bottom_m = storey_.level_m;
  const double top_m = bottom_m + std::max(of.height_m, other.height_m);
  const Segment2 base{at_b ? of.line.b : of.line.a, end.at};
  const Point2 own_normal = std::exchange(normal_, normal_of(base));
  const auto [first, second] = std::minmax({wall_name(of), wall_name(other)});
  wall_ = add_wall({.element = kNone,
                    .base = base,
                    .bottom_m = bottom_m,
                    .top_m = top_m,
                    .beside = {scene_.walls_[own].element, scene_.walls_[facing].element}});
  join_lines(scene_.walls_[own].line, scene_.walls_[wall_].line);
  add_gap({.name = "gap between " + first + " and " + second,
           .base = base,
           .bottom_m = bottom_m,
           .top_m = top_m,
           .open_top = is_low(of, storey_) && is_low(other, storey_),
           .normal = {}});
  wall_ = own;
  normal_ = own_normal;
}

void WallBuilder::join_lines(std::uint32_t one, std::uint32_t other) {
  if (one == other) return;
  for (Wall& wall : scene_.walls_) {
    if (wall.line == other) wall.line = one;
  }
  for (const std::uint32_t gap : std::exchange(scene_.wall_lines_[other].gaps, {})) {
    scene_.gaps_[gap].line = one;
    scene_.wall_lines_[one].gaps.push_back(gap);
  }
}

Gap WallBuilder::gap_over(const WallPiece& piece, const std::string& name, double bottom_m) const {
  return {.name = name + wall_name(piece),
          .base = piece.line,
          .bottom_m = bottom_m,
          .top_m = bottom_m + kShadeReachM,
          .edge_a = false,
          .edge_b = false,
          .edge_bottom = true,
          .open_a = true,
          .open_b = true,
          .open_top = true,
          .normal = normal_};
}

void WallBuilder::add_top(const WallPiece& piece) {
  add_gap(gap_over(piece, "top of ", storey_.level_m + piece.height_m));
}

void WallBuilder::add_eaves(const WallPiece& piece, std::uint32_t element, std::uint32_t roof) {
  const auto loss_db = [&](std::uint32_t of) { return scene_.elements()[of].transmission.loss_db(1); };
  if (loss_db(element) <= loss_db(roof) + kEavesMatterDb) return;
  Gap eaves = gap_over(piece, "eaves over ", reach_.top_m);
  eaves.element = roof;
  eaves.line = scene_.walls_[wall_].line;
  eaves.at_eaves = true;
  scene_.wall_lines_[eaves.line].gaps.push_back(static_cast<std::uint32_t>(scene_.gaps_.size()));
  scene_.gaps_.push_back(std::move(eaves));
}

}  // namespace linkmargin
