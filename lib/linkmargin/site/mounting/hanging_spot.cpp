#include "linkmargin/site/mounting/hanging_spot.hpp"

#include "linkmargin/site/mounting/mounting_rules.hpp"
#include "linkmargin/site/validation/checks.hpp"
#include "linkmargin/site/wall_plan.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

/// So near to a face or a ceiling a radio hangs on it, as people type its place.
constexpr double kOnFaceM = 0.12;

/// So near to an opening it hangs on the frame: a little less than what is kept off it.
constexpr double kOnFrameM = 0.9 * kFrameM;

/// Pieces that turn by less than this go on in one line.
constexpr double kInLineSine = 0.02;

bool touches(const WallPiece& piece, const Room* room) {
  if (!piece.construction) return false;
  return room == nullptr ? !piece.traced.empty()
                         : piece.first == room->name || piece.second == room->name || !piece.traced.empty();
}

/// Half of the wall that a piece meets at a corner: people measure from its face.
double half_wall_at(const Site& site, const std::vector<WallPiece>& plan, const WallPiece& on,
                    Point2 corner) {
  const Point2 along = on.line.b - on.line.a;
  double half_m = 0;
  for (const WallPiece& piece : plan) {
    const Point2 way = piece.line.b - piece.line.a;
    const bool goes_on = std::abs(cross(along, way)) < kInLineSine * length(on.line) * length(piece.line);
    if (piece.construction && !goes_on && distance_to_segment(corner, piece.line) < kWeldM)
      half_m = std::max(half_m, half_thickness_m(site, *piece.construction));
  }
  return half_m;
}

OnCeiling ceiling_at(const Room& room, Point2 at) {
  const Box2 box = bounding_box(room.corners);
  const bool left = at.x - box.min.x <= box.max.x - at.x;
  const bool low = at.y - box.min.y <= box.max.y - at.y;
  return {left ? SheetSide::left : SheetSide::right, left ? at.x - box.min.x : box.max.x - at.x,
          low ? SheetSide::bottom : SheetSide::top, low ? at.y - box.min.y : box.max.y - at.y};
}

}  // namespace

HangingSpots::Walls::Walls(const Site& site, const Storey& of) : storey(&of), plan(wall_plan(of)) {
  for (std::size_t i = 0; i < of.openings.size(); ++i) {
    const auto located = locate_opening(plan, of, i);
    if (!located) continue;
    const WallPiece& piece = plan[located->piece];
    frames.push_back({{at_fraction(piece.line, located->from), at_fraction(piece.line, located->to)},
                      piece.construction ? half_thickness_m(site, *piece.construction) : 0,
                      &of.openings[i]});
  }
}

std::optional<OnFrame> HangingSpots::Walls::frame_at(const Placement& place) const {
  for (const Frame& frame : frames) {
    const double width_m = length(frame.line);
    const Point2 along = (1 / width_m) * (frame.line.b - frame.line.a);
    const double on_m = dot(place.at - frame.line.a, along);
    const double off_m = std::abs(cross(along, place.at - frame.line.a));
    const Opening& opening = *frame.opening;
    const double head_m = opening.sill_m + opening.height_m;
    const bool beside = on_m > -kOnFrameM && on_m < width_m + kOnFrameM && off_m <= frame.half_m + kOnFaceM;
    if (beside && place.height_m > opening.sill_m - kOnFrameM && place.height_m < head_m + kOnFrameM)
      return OnFrame{opening.name};
  }
  return {};
}

HangingSpot HangingSpots::Walls::at(const Site& site, const Placement& place) const {
  const Room* room = checks::room_at(*storey, place.at);
  if (room != nullptr && place.height_m <= kOnFaceM) return OnFloor{};
  if (auto frame = frame_at(place)) return *frame;
  const WallPiece* on = nullptr;
  double nearest_m = 2 * kBeforeMetalM;
  for (const WallPiece& piece : plan) {
    if (!touches(piece, room) || place.height_m > piece.height_m) continue;
    const double off_m =
        distance_to_segment(place.at, piece.line) - half_thickness_m(site, *piece.construction);
    const bool metal = mounted_off_m(site, *piece.construction) > kMountedOffM;
    if (off_m > nearest_m || off_m > (metal ? kBeforeMetalM + kOnFaceM / 2 : kOnFaceM)) continue;
    nearest_m = off_m;
    on = &piece;
  }
  if (on != nullptr && !on->traced.empty()) return OnTracedWall{on->traced};
  if (on != nullptr) {
    const auto spot = nearest_wall_spot(*room, place.at);
    if (!spot) return {};
    OnWall found{spot->spot, spot->only};
    found.spot.distance_m =
        std::max(0.0, found.spot.distance_m - half_wall_at(site, plan, *on, spot->corner));
    if (nearest_m > kOnFaceM) found.board_m = nearest_m;
    return found;
  }
  if (room != nullptr && place.height_m >= storey->height_m - kOnFaceM) return ceiling_at(*room, place.at);
  return {};
}

HangingSpots::HangingSpots(const Site& site) : site_(site) {
  for (const Storey& storey : site.storeys) storeys_.emplace_back(site, storey);
}

HangingSpot HangingSpots::at(const Placement& place) const {
  return storeys_.empty() ? HangingSpot() : storeys_[place.storey].at(site_, place);
}

HangingSpot hanging_spot(const Site& site, const Placement& place) {
  if (site.storeys.empty()) return {};
  return HangingSpots::Walls(site, site.storeys[place.storey]).at(site, place);
}

}  // namespace linkmargin
