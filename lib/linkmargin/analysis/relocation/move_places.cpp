#include "linkmargin/analysis/relocation/move_places.hpp"

#include "linkmargin/link/building/path.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

/// Nearer than this to where it hangs is no move.
constexpr double kNoMoveM = 0.01;

const Polygon2* corners_of(const Room* room) {
  return room == nullptr ? nullptr : &room->corners;
}

/// The corners between which a radio may move freely; none for one that slides, turns about its place or
/// stays.
const Polygon2* free_area(const Site& site, const Placement& place, const Mobility& may_move) {
  if (const auto* room = std::get_if<Mobility::WithinRoom>(&may_move.reach))
    return corners_of(checks::find_room(site.storeys[place.storey], room->room));
  if (const auto* within = std::get_if<Mobility::Within>(&may_move.reach)) return &within->corners;
  return nullptr;
}

/// Spots of a square grid with one on `through`, as far as the box goes.
std::vector<Point2> grid_spots(const Box2& box, Point2 through, double step_m) {
  const Point2 size = box.max - box.min;
  const double coarsest = std::sqrt(size.x * size.y / static_cast<double>(kMostMovePlaces));
  const double step = std::max(step_m, coarsest);
  const auto first = [&](double low, double at) { return static_cast<int>(std::ceil((low - at) / step)); };
  const auto last = [&](double high, double at) { return static_cast<int>(std::floor((high - at) / step)); };
  std::vector<Point2> spots;
  for (int row = first(box.min.y, through.y); row <= last(box.max.y, through.y); ++row) {
    for (int column = first(box.min.x, through.x); column <= last(box.max.x, through.x); ++column)
      spots.push_back(snapped({through.x + column * step, through.y + row * step}));
  }
  return spots;
}

std::vector<Point2> disc_spots(const Scene& scene, const Site& site, const Placement& place, double radius_m,
                               double step_m) {
  const Point3 from = site.point(place);
  const Point2 at = from.plan();
  const Polygon2* room = corners_of(checks::room_at(site.storeys[place.storey], at));
  const double clear_m = room == nullptr ? 0 : std::min(kWallClearanceM, distance_to_edges(*room, at));
  const Point2 reach{radius_m, radius_m};
  std::vector<Point2> spots = grid_spots({at - reach, at + reach}, at, std::min(step_m, radius_m));
  std::erase_if(spots, [&](Point2 spot) {
    if (room != nullptr && (!contains(*room, spot) || distance_to_edges(*room, spot) < clear_m)) return true;
    return distance(at, spot) > radius_m + 1e-9 ||
           !trace(scene, from, {spot.x, spot.y, from.z}).crossings.empty();
  });
  return spots;
}

std::vector<Point2> line_spots(const std::vector<Point2>& line, double step_m) {
  double length_m = 0;
  for (std::size_t i = 0; i + 1 < line.size(); ++i) length_m += distance(line[i], line[i + 1]);
  const double step = std::max(step_m, length_m / static_cast<double>(kMostMovePlaces));
  std::vector<Point2> spots;
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    const double part_m = distance(line[i], line[i + 1]);
    const int parts = std::max(1, static_cast<int>(std::ceil(part_m / step)));
    for (int p = i == 0 ? 0 : 1; p <= parts; ++p)
      spots.push_back(snapped(line[i] + (static_cast<double>(p) / parts) * (line[i + 1] - line[i])));
  }
  return spots;
}

}  // namespace

std::vector<Point2> move_places(const Scene& scene, const Site& site, const Placement& place,
                                const std::optional<Mobility>& may_move, double step_m) {
  if (!may_move) return {};
  std::vector<Point2> spots;
  if (const auto* radius = std::get_if<Mobility::Radius>(&may_move->reach)) {
    if (radius->radius_m <= kNoMoveM) return {};
    spots = disc_spots(scene, site, place, radius->radius_m, step_m);
  } else if (const auto* along = std::get_if<Mobility::Along>(&may_move->reach)) {
    spots = line_spots(along->line, step_m);
  } else if (const Polygon2* corners = free_area(site, place, *may_move)) {
    spots = grid_spots(bounding_box(*corners), place.at, step_m);
    std::erase_if(spots, [&](Point2 spot) {
      return !contains(*corners, spot) || distance_to_edges(*corners, spot) < kWallClearanceM;
    });
  }
  std::erase_if(spots, [&](Point2 spot) { return distance(spot, place.at) < kNoMoveM; });
  std::ranges::stable_sort(spots, {}, [&](Point2 spot) { return distance(spot, place.at); });
  return spots;
}

}  // namespace linkmargin
