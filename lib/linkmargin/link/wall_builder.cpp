#include "linkmargin/link/wall_builder.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

/// How far what closes such a joint reaches past the other wall's line.
constexpr double kPastM = 0.002;

}  // namespace

std::string wall_name(const WallPiece& piece) {
  if (!piece.traced.empty()) return piece.traced;
  if (piece.second == kOutside) return "outer wall of " + piece.first;
  return "wall between " + piece.first + " and " + piece.second;
}

void WallBuilder::add_panel(Segment2 base, double bottom_m, double top_m, std::uint32_t element) {
  if (base.a == base.b || bottom_m >= top_m) return;
  scene_.panels_.push_back({base, bottom_m, top_m, normal_, element, wall_});
}

void WallBuilder::add_gap(Gap gap) {
  gap.normal = normal_;
  gap.wall = wall_;
  const std::size_t before = scene_.panels_.size();
  add_panel(gap.base, gap.bottom_m, gap.top_m, gap.element);
  if (scene_.panels_.size() > before) scene_.panels_.back().beyond = gap.edge_a && !gap.edge_b;
  scene_.walls_[wall_].gaps.push_back(static_cast<std::uint32_t>(scene_.gaps_.size()));
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
  const Point2 along = piece.line.b - piece.line.a;
  const double size = length(piece.line);
  normal_ = {-along.y / size, along.x / size};
  wall_ = static_cast<std::uint32_t>(scene_.walls_.size());
  const double floor_m = reach_.bottom_m;
  const bool to_the_ceiling = piece.height_m >= storey_.height_m - kJointM;
  const double top_m = to_the_ceiling ? reach_.top_m : storey_.level_m + piece.height_m;
  scene_.walls_.push_back({element, {}, piece.line, floor_m, top_m});

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
  add_free_ends(piece);
  if (!to_the_ceiling) add_top(piece);
  if (to_the_ceiling && roof != kNone && piece.second == kOutside) add_eaves(piece, element, roof);
}

const WallPiece* WallBuilder::joined_to(const WallPiece& piece, Point2 end) const {
  const WallPiece* nearest = nullptr;
  double nearest_m = kJointM;
  for (const WallPiece& other : plan_) {
    if (&other == &piece || !other.construction) continue;
    const double distance_m = distance_to_segment(end, other.line);
    if (distance_m >= nearest_m) continue;
    nearest = &other;
    nearest_m = distance_m;
  }
  return nearest;
}

void WallBuilder::add_joint(const WallPiece& piece, Point2 end, const WallPiece& other,
                            std::uint32_t element) {
  const Point2 on = at_fraction(other.line, nearest_fraction(end, other.line));
  const double chink_m = distance(end, on);
  if (chink_m <= kGridPitchM) return;
  const Point2 past = snapped(on + (kPastM / chink_m) * (on - end));  // surely on the other wall's far side
  const Point2 along = past - end;
  const double size = length({end, past});
  scene_.joints_.push_back({{end, past},
                            storey_.level_m,
                            storey_.level_m + piece.height_m,
                            {-along.y / size, along.x / size},
                            element,
                            wall_});
}

void WallBuilder::add_free_ends(const WallPiece& piece) {
  const Point2 reach = (kShadeReachM / length(piece.line)) * (piece.line.b - piece.line.a);
  for (const bool at_b : {false, true}) {
    const Point2 end = at_b ? piece.line.b : piece.line.a;
    if (const WallPiece* other = joined_to(piece, end)) {
      add_joint(piece, end, *other, scene_.walls_[wall_].element);
      continue;
    }
    add_gap({.name = "end of " + wall_name(piece),
             .base = {end, snapped(at_b ? end + reach : end - reach)},
             .bottom_m = storey_.level_m,
             .top_m = storey_.level_m + piece.height_m,
             .edge_a = true,
             .edge_b = false,
             .normal = {}});
  }
}

void WallBuilder::add_top(const WallPiece& piece) {
  const double top_m = storey_.level_m + piece.height_m;
  add_gap({.name = "top of " + wall_name(piece),
           .base = piece.line,
           .bottom_m = top_m,
           .top_m = top_m + kShadeReachM,
           .edge_a = false,
           .edge_b = false,
           .edge_bottom = true,
           .normal = {}});
}

void WallBuilder::add_eaves(const WallPiece& piece, std::uint32_t element, std::uint32_t roof) {
  const auto loss_db = [&](std::uint32_t of) { return scene_.elements()[of].transmission.loss_db(1); };
  if (loss_db(element) <= loss_db(roof) + kEavesMatterDb) return;
  scene_.walls_[wall_].gaps.push_back(static_cast<std::uint32_t>(scene_.gaps_.size()));
  scene_.gaps_.push_back({.name = "eaves over " + wall_name(piece),
                          .base = piece.line,
                          .bottom_m = reach_.top_m,
                          .top_m = reach_.top_m + kShadeReachM,
                          .edge_a = false,
                          .edge_b = false,
                          .edge_bottom = true,
                          .normal = normal_,
                          .element = roof,
                          .wall = wall_,
                          .at_eaves = true});
}

}  // namespace linkmargin
