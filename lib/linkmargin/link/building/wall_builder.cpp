#include "linkmargin/link/building/wall_builder.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace linkmargin {
namespace {

/// How far what closes such a joint reaches past the other wall's line.
constexpr double kPastM = 0.002;  ///< assumption; doubled, halved: 0.005 dB at most

/// Length 1.
Point2 normal_of(Segment2 line) {
  const Point2 along = (1 / length(line)) * (line.b - line.a);
  return {-along.y, along.x};
}

bool is_low(const WallPiece& piece, const Storey& storey) {
  return piece.height_m < storey.height_m - kJointM;
}

}  // namespace

std::uint32_t WallBuilder::add_wall(Wall wall) {
  wall.line = static_cast<std::uint32_t>(parts_.wall_lines.size());
  parts_.wall_lines.emplace_back();
  parts_.walls.push_back(wall);
  return static_cast<std::uint32_t>(parts_.walls.size() - 1);
}

void WallBuilder::add_panel(Segment2 base, double bottom_m, double top_m, std::uint32_t barrier) {
  if (base.a == base.b || bottom_m >= top_m) return;
  parts_.panels.push_back({base, bottom_m, top_m, normal_, barrier, wall_});
}

double WallBuilder::barrier_db(std::uint32_t barrier) const {
  return barrier == kNone ? 0 : parts_.barriers[barrier].transmission.loss_db(1);
}

/// Of air between two walls the mean of their amplitudes.
double WallBuilder::wall_db() const {
  const Wall& wall = parts_.walls[wall_];
  if (wall.beside[0] == kNone) return barrier_db(wall.barrier);
  double amplitude = 0;
  for (const std::uint32_t barrier : wall.beside) amplitude += std::pow(10, -barrier_db(barrier) / 20) / 2;
  return -20 * std::log10(amplitude);
}

void WallBuilder::add_aperture(Aperture aperture) {
  aperture.normal = normal_;
  aperture.line = parts_.walls[wall_].line;
  aperture.wall_db = wall_db();
  add_panel(aperture.base, aperture.bottom_m, aperture.top_m, aperture.barrier);
  parts_.wall_lines[aperture.line].apertures.push_back(static_cast<std::uint32_t>(parts_.apertures.size()));
  parts_.apertures.push_back(std::move(aperture));
}

void WallBuilder::add_opening(const Cut& cut, Segment2 base, double top_m, std::uint32_t barrier) {
  const double sill_m = storey_.level_m + cut.opening->sill_m;
  const double head_m = std::min(top_m, sill_m + cut.opening->height_m);
  add_panel(base, reach_.bottom_m, sill_m, barrier);
  add_panel(base, head_m, top_m, barrier);
  if (base.a == base.b || sill_m >= head_m) return;
  const bool walled = barrier != kNone;  // in open plan a leaf stands alone, and has no frame to bend round
  add_aperture({.name = own_name(cut.opening->name),
                .base = base,
                .bottom_m = sill_m,
                .top_m = head_m,
                .edge_a = walled,
                .edge_b = walled,
                .edge_bottom = walled && cut.opening->sill_m > kJointM,
                .edge_top = walled && head_m < top_m - kJointM,
                .normal = {},
                .barrier = cut.leaf});
}

/// A part runs the way the wall does.
void WallBuilder::add_part(StraightPart part, const Made& made, double top_m) {
  const Segment2 line = plan_[part.piece].line;
  std::vector<Cut> cuts = made.cuts;
  if (part.turned) {
    std::ranges::reverse(cuts);
    for (Cut& cut : cuts) cut = {1 - cut.to, 1 - cut.from, cut.opening, cut.leaf};
  }
  const Segment2 along = part.turned ? Segment2{line.b, line.a} : line;
  const auto add_solid = [&](Segment2 base) {
    if (made.barrier != kNone) add_panel(base, reach_.bottom_m, top_m, made.barrier);
  };
  Point2 start = along.a;
  for (const Cut& cut : cuts) {
    const Point2 from = snapped(at_fraction(along, cut.from));
    const Point2 to = snapped(at_fraction(along, cut.to));
    add_solid({start, from});
    add_opening(cut, {from, to}, top_m, made.barrier);
    start = to;
  }
  add_solid({start, along.b});
}

void WallBuilder::add(const std::vector<StraightPart>& parts, std::span<const Made> made,
                      std::uint32_t roof) {
  const StraightPart first = parts.front(), last = parts.back();
  const std::uint32_t barrier = made[first.piece].barrier;
  if (barrier == kNone && made[first.piece].cuts.empty()) return;
  WallPiece whole = plan_[first.piece];
  if (parts.size() > 1) {
    whole.line.a = first.turned ? whole.line.b : whole.line.a;
    whole.line.b = last.turned ? plan_[last.piece].line.a : plan_[last.piece].line.b;
  }
  normal_ = normal_of(whole.line);
  const double top_m = is_low(whole, storey_) ? storey_.level_m + whole.height_m : reach_.top_m;
  wall_ = add_wall({.barrier = barrier, .base = whole.line, .bottom_m = reach_.bottom_m, .top_m = top_m});
  for (const StraightPart& part : parts) add_part(part, made[part.piece], top_m);
  if (barrier == kNone) return;
  for (const StraightPart& part : parts) wall_of_[part.piece] = wall_;
  add_end(first.piece, first.turned, wall_end(plan_, first.piece, first.turned));
  add_end(last.piece, !last.turned, wall_end(plan_, last.piece, !last.turned));
  if (is_low(whole, storey_)) {
    add_top(whole);
  } else if (roof != kNone) {
    parts_.walls[wall_].eaves = roof;
    add_eaves(whole, roof);
  }
}

void WallBuilder::add_joint(const WallPiece& piece, Point2 end, const WallPiece& other,
                            std::uint32_t barrier) {
  const Point2 on = at_fraction(other.line, nearest_fraction(end, other.line));
  const double chink_m = distance(end, on);
  if (chink_m <= kGridPitchM) return;
  const Point2 past = snapped(on + (kPastM / chink_m) * (on - end));  // surely on the other wall's far side
  parts_.joints.push_back({{end, past},
                           storey_.level_m,
                           storey_.level_m + piece.height_m,
                           normal_of({end, past}),
                           barrier,
                           wall_});
}

void WallBuilder::add_end(std::size_t piece, bool at_b, const WallEnd& end) {
  const WallPiece& of = plan_[piece];
  const Point2 tip = at_b ? of.line.b : of.line.a;
  if (end.comes == WallEnd::Comes::to_joint) {
    add_joint(of, tip, plan_[end.other], parts_.walls[wall_].barrier);
    return;
  }
  if (end.comes == WallEnd::Comes::to_opposite) {
    add_between(piece, at_b, end);
    return;
  }
  const bool to_air = end.comes == WallEnd::Comes::to_air;
  // Over a wall of less than half its height the air goes on, and is that wall's own aperture.
  const bool bounded = !to_air && plan_[end.other].height_m >= of.height_m / 2;
  add_aperture({.name = piece_of(wall_name(of), PartPiece::end),
                .base = {tip, snapped(end.at)},
                .bottom_m = storey_.level_m,
                .top_m = storey_.level_m + of.height_m,
                .edge_a = true,
                .edge_b = bounded,
                .open_b = to_air,
                .open_top = is_low(of, storey_),
                .normal = {}});
  parts_.panels.back().beyond = true;
}

/// What lies between two ends that face each other, when the second of them is added.
void WallBuilder::add_between(std::size_t piece, bool at_b, const WallEnd& end) {
  if (wall_of_[end.other] == kNone) return;
  const WallPiece& of = plan_[piece];
  const WallPiece& other = plan_[end.other];
  const std::uint32_t own = wall_, facing = wall_of_[end.other];
  join_lines(parts_.walls[own].line, parts_.walls[facing].line);
  const double bottom_m = storey_.level_m;
  const double top_m = bottom_m + std::max(of.height_m, other.height_m);
  const Segment2 base{at_b ? of.line.b : of.line.a, end.at};
  const Point2 own_normal = std::exchange(normal_, normal_of(base));
  wall_ = add_wall({.barrier = kNone,
                    .base = base,
                    .bottom_m = bottom_m,
                    .top_m = top_m,
                    .beside = {parts_.walls[own].barrier, parts_.walls[facing].barrier}});
  join_lines(parts_.walls[own].line, parts_.walls[wall_].line);
  add_aperture({.name = gap_between(wall_name(of), wall_name(other)),
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
  for (Wall& wall : parts_.walls) {
    if (wall.line == other) wall.line = one;
  }
  for (const std::uint32_t aperture : std::exchange(parts_.wall_lines[other].apertures, {})) {
    parts_.apertures[aperture].line = one;
    parts_.wall_lines[one].apertures.push_back(aperture);
  }
}

Aperture WallBuilder::aperture_over(const WallPiece& piece, PartPiece over, double bottom_m) const {
  return {.name = piece_of(wall_name(piece), over),
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
  add_aperture(aperture_over(piece, PartPiece::top, storey_.level_m + piece.height_m));
}

void WallBuilder::add_eaves(const WallPiece& piece, std::uint32_t roof) {
  if (barrier_db(parts_.walls[wall_].barrier) <= barrier_db(roof) + kEavesMatterDb) return;
  Aperture eaves = aperture_over(piece, PartPiece::eaves, reach_.top_m);
  eaves.barrier = roof;
  eaves.line = parts_.walls[wall_].line;
  eaves.at_eaves = true;
  parts_.wall_lines[eaves.line].apertures.push_back(static_cast<std::uint32_t>(parts_.apertures.size()));
  parts_.apertures.push_back(std::move(eaves));
}

}  // namespace linkmargin
