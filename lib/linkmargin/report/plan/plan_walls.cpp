#include "linkmargin/report/plan/plan_walls.hpp"

#include "linkmargin/base/number_text.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace linkmargin::plan {
namespace {

constexpr double kLeastWallPx = 2.2;
constexpr double kWallRimPx = 1.6;

/// Darker than any colour of a map above the threshold, and of other hues: told apart in grey by their rims.
constexpr std::array<const char*, 8> kWallFills{"#2f3640", "#868f9b", "#7d4a3a", "#4f6650",
                                                "#6d5a86", "#a5803c", "#3d6478", "#8b6f7a"};

bool is_outer(const WallPiece& piece) {
  return piece.first == kOutside || piece.second == kOutside;
}

}  // namespace

double thickness_px(const WallPiece& piece, const Frame& frame) {
  const double thickness_m = piece.construction && piece.construction->thickness_m
                                 ? *piece.construction->thickness_m
                                 : kUnknownThicknessM;
  return std::max(kLeastWallPx, thickness_m * frame.px_per_m);
}

namespace {

std::string wall_name(const Wording& wording, const WallPiece& piece) {
  if (!piece.traced.empty()) return wording.name(piece.traced);
  if (is_outer(piece)) {
    const std::string& room = piece.first == kOutside ? piece.second : piece.first;
    return wording.say("part.outer_wall", {{"first", wording.name(room)}});
  }
  return wording.say("part.wall_between",
                     {{"first", wording.name(piece.first)}, {"second", wording.name(piece.second)}});
}

std::string wall_tooltip(const Wording& wording, const WallPiece& piece) {
  const Language::Place wall{"wall", wall_name(wording, piece)};
  if (!piece.construction) return wording.say("sign.open_wall", {wall});
  std::string material = piece.construction->material;
  if (piece.construction->thickness_m)
    material += " " + shortest_text(*piece.construction->thickness_m) + " m";
  return wording.say("sign.wall", {wall,
                                   {"material", wording.language().material(material)},
                                   {"height", wording.language().length(piece.height_m)}});
}

std::string opening_tooltip(const Wording& wording, const Opening& opening) {
  return wording.say(opening.sill_m > 0 ? "sign.opening_sill" : "sign.opening",
                     {{"name", wording.name(opening.name)},
                      {"material", wording.language().material(opening.leaf.material)},
                      {"width", wording.language().length(opening.width_m)},
                      {"height", wording.language().length(opening.height_m)},
                      {"sill", wording.language().length(opening.sill_m)}});
}

/// A straight strip along a wall on the sheet, from one fraction of it to another.
struct Strip {
  Segment2 line_px;
  double width_px = 1;

  Point2 along() const { return (1 / std::max(length(line_px), 1e-9)) * (line_px.b - line_px.a); }
  Point2 across() const { return {-along().y, along().x}; }
  Point2 at(double fraction, double offset_px) const {
    return at_fraction(line_px, fraction) + offset_px * across();
  }

  std::vector<Point2> outline(double from, double to, double longer_at_start, double longer_at_end) const {
    const double half = width_px / 2;
    const Point2 start = longer_at_start * along();
    const Point2 end = longer_at_end * along();
    return {at(from, -half) - start, at(to, -half) + end, at(to, half) + end, at(from, half) - start};
  }
};

struct Gap {
  double from = 0;
  double to = 0;
};

std::vector<Gap> gaps_of(std::size_t piece, const std::vector<OpeningPlace>& places) {
  std::vector<Gap> gaps;
  for (const OpeningPlace& place : places) {
    if (place.piece == piece)
      gaps.push_back({std::min(place.from, place.to), std::max(place.from, place.to)});
  }
  std::sort(gaps.begin(), gaps.end(), [](Gap left, Gap right) { return left.from < right.from; });
  return gaps;
}

class WallDrawer {
 public:
  WallDrawer(const Wording& wording, svg::Writer& out, const Site& site, const Storey& storey,
             const std::vector<WallPiece>& walls, const Frame& frame, Signs& signs)
      : wording_(wording),
        out_(out),
        storey_(storey),
        walls_(walls),
        frame_(frame),
        signs_(signs),
        fills_(site) {
    for (std::size_t i = 0; i < storey.openings.size(); ++i) {
      if (const auto place = locate_opening(walls, storey, i)) places_.push_back(*place);
    }
  }

  void draw(bool pale_rims) {
    rims_ = pale_rims;
    for (std::size_t i = 0; rims_ && i < walls_.size(); ++i) {
      if (walls_[i].construction) wall(i);
    }
    rims_ = false;
    enum class Pass { open, inner, traced, outer };
    for (const Pass pass : {Pass::open, Pass::inner, Pass::traced, Pass::outer}) {
      for (std::size_t i = 0; i < walls_.size(); ++i) {
        const WallPiece& piece = walls_[i];
        const Pass own = !piece.construction     ? Pass::open
                         : !piece.traced.empty() ? Pass::traced
                         : is_outer(piece)       ? Pass::outer
                                                 : Pass::inner;
        if (own == pass) wall(i);
      }
    }
    for (const OpeningPlace& place : places_) opening(place);
  }

 private:
  Strip strip(std::size_t piece) const {
    const Segment2 line = walls_[piece].line;
    return {{frame_.at(line.a), frame_.at(line.b)}, thickness_px(walls_[piece], frame_)};
  }

  void wall(std::size_t i) {
    const WallPiece& piece = walls_[i];
    const Strip whole = strip(i);
    if (!piece.construction) {
      signs_.open_plan = true;
      out_.element("line",
                   {{"x1", svg::px(whole.line_px.a.x)},
                    {"y1", svg::px(whole.line_px.a.y)},
                    {"x2", svg::px(whole.line_px.b.x)},
                    {"y2", svg::px(whole.line_px.b.y)},
                    {"stroke", kInnerWall},
                    {"stroke-width", "1"},
                    {"stroke-dasharray", "2 5"}},
                   wall_tooltip(wording_, piece));
      return;
    }
    if (!frame_.elsewhere) note(*piece.construction);
    double from = 0;
    for (const Gap gap : gaps_of(i, places_)) {
      if (gap.from > from)
        part(piece, whole.outline(from, gap.from, from == 0 ? corner(i, piece.line.a) : 0, 0));
      from = std::max(from, gap.to);
    }
    if (from < 1)
      part(piece, whole.outline(from, 1, from == 0 ? corner(i, piece.line.a) : 0, corner(i, piece.line.b)));
  }

  /// For the key.
  void note(const Construction& construction) {
    WallSign& sign = signs_.walls[construction.material];
    sign.fill = fills_.of(construction.material);
    if (!construction.thickness_m) return;
    const double thick = *construction.thickness_m;
    sign.least_m = std::min(thick, sign.least_m.value_or(thick));
    sign.most_m = std::max(thick, sign.most_m.value_or(thick));
  }

  /// How far a wall goes on past its end, to fill the corner with the walls that it meets there at an angle.
  double corner(std::size_t i, Point2 end) const {
    const Point2 own = walls_[i].line.b - walls_[i].line.a;
    double longer_px = 0;
    for (std::size_t k = 0; k < walls_.size(); ++k) {
      const Segment2 other = walls_[k].line;
      if (k == i || !walls_[k].construction || !walls_[k].traced.empty()) continue;
      if (std::min(distance(other.a, end), distance(other.b, end)) > kWeldM) continue;
      const bool in_line =
          std::abs(cross(own, other.b - other.a)) < 0.2 * length(walls_[i].line) * length(other);
      if (!in_line) longer_px = std::max(longer_px, thickness_px(walls_[k], frame_) / 2);
    }
    return longer_px;
  }

  void part(const WallPiece& piece, const std::vector<Point2>& outline) {
    if (rims_) {
      out_.element("polygon", {{"points", svg::points(outline)},
                               {"fill", "#ffffff"},
                               {"stroke", "#ffffff"},
                               {"stroke-width", svg::px(2 * kWallRimPx)}});
      return;
    }
    out_.element("polygon",
                 {{"points", svg::points(outline)}, {"fill", fills_.of(piece.construction->material)}},
                 wall_tooltip(wording_, piece));
  }

  void line(Point2 a, Point2 b, const char* colour, const char* width_px, const std::string& tooltip = {}) {
    out_.element("line",
                 {{"x1", svg::px(a.x)},
                  {"y1", svg::px(a.y)},
                  {"x2", svg::px(b.x)},
                  {"y2", svg::px(b.y)},
                  {"stroke", colour},
                  {"stroke-width", width_px}},
                 tooltip);
  }

  void opening(const OpeningPlace& place) {
    const Opening& opening = storey_.openings[place.opening];
    const Strip whole = strip(place.piece);
    const double half = std::max(whole.width_px / 2, 3.0);
    for (const double end : {place.from, place.to})
      line(whole.at(end, -half), whole.at(end, half), kInk, "1.4");
    const bool leafless = opening.leaf.material == kNoMaterial;
    const bool glazed = !leafless && (opening.sill_m > 0 || !opening.opens);
    (leafless ? signs_.gap : glazed ? signs_.glazing : signs_.door) = true;
    if (leafless) return;
    const std::string tooltip = opening_tooltip(wording_, opening);
    if (!glazed) {
      line(whole.at(place.from, 0), whole.at(place.to, 0), kDoor, "3.4", tooltip);
      return;
    }
    const double pane = std::max(1.6, whole.width_px / 5);
    for (const double offset : {-pane, pane}) {
      line(whole.at(place.from, offset), whole.at(place.to, offset), kGlazing, "1.6", tooltip);
    }
  }

  const Wording& wording_;
  svg::Writer& out_;
  const Storey& storey_;
  const std::vector<WallPiece>& walls_;
  const Frame& frame_;
  Signs& signs_;
  WallFills fills_;
  std::vector<OpeningPlace> places_;
  bool rims_ = false;  ///< this pass draws what shines out round the walls
};

}  // namespace

WallFills::WallFills(const Site& site) {
  const auto take = [&](const Construction& of) {
    if (std::ranges::find(materials_, of.material) == materials_.end()) materials_.push_back(of.material);
  };
  for (const Storey& storey : site.storeys) {
    take(storey.outer_wall);
    take(storey.inner_wall);
    for (const Boundary& boundary : storey.boundaries) take(boundary.construction);
    for (const TracedWall& wall : storey.walls) take(wall.construction);
  }
}

const char* WallFills::of(const std::string& material) const {
  const auto found = std::ranges::find(materials_, material);
  return kWallFills[static_cast<std::size_t>(found - materials_.begin()) % kWallFills.size()];
}

void draw_walls(const Wording& wording, svg::Writer& out, const Site& site, const Storey& storey,
                const std::vector<WallPiece>& walls, const Frame& frame, Signs& signs, bool pale_rims) {
  WallDrawer(wording, out, site, storey, walls, frame, signs).draw(pale_rims);
}

}  // namespace linkmargin::plan
