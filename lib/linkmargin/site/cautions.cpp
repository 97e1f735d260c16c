#include "linkmargin/base/number_text.hpp"
#include "linkmargin/geometry/near_boxes.hpp"
#include "linkmargin/site/checks.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

namespace linkmargin {
namespace {

using checks::metres;
using checks::quoted;
using checks::Radio;

constexpr double kSideBySideM = 0.3;  // a gap that a wall's thickness explains
constexpr double kLongEnoughM = 0.3;  // of two walls beside each other
constexpr double kParallel = 0.05;    // sine of the angle between them: about 3 degrees
constexpr double kFarM = 150;  // from every room: common practice, a slip of the decimal point more likely

bool exactly_on(Point2 p, Segment2 line) {
  return line.a != line.b && side(line.a, line.b, p) == 0 && std::min(line.a.x, line.b.x) <= p.x &&
         p.x <= std::max(line.a.x, line.b.x) && std::min(line.a.y, line.b.y) <= p.y &&
         p.y <= std::max(line.a.y, line.b.y);
}

std::string wall_text(const WallPiece& piece) {
  if (!piece.traced.empty()) return "traced wall " + quoted(piece.traced);
  if (piece.second == kOutside) return "outer wall of " + quoted(piece.first);
  return "wall between " + quoted(piece.first) + " and " + quoted(piece.second);
}

/// The side that crosses() takes a point on the wall's line to be on.
std::string side_text(const Storey& storey, const WallPiece& piece, Point2 p) {
  if (piece.traced.empty()) {
    const Room* room = checks::room_at(storey, p);
    return room != nullptr ? "in " + quoted(room->name) : "outside the rooms";
  }
  const bool upright = piece.line.a.x == piece.line.b.x;
  return upright ? "on its left on the sheet (smaller x)" : "above it on the sheet (greater y)";
}

void say_on_wall(const Storey& storey, const std::vector<WallPiece>& plan, const Radio& radio,
                 std::vector<std::string>& cautions) {
  for (const WallPiece& piece : plan) {
    if (!piece.construction || !exactly_on(radio.place.at, piece.line)) continue;
    cautions.push_back(quoted(radio.name) + " stands exactly on the line of the " + wall_text(piece) +
                       ": it is taken to be " + side_text(storey, piece, radio.place.at) +
                       ", and one centimetre either way decides whether that wall counts.");
    return;
  }
}

void say_in_obstacle(const Storey& storey, const Radio& radio, std::vector<std::string>& cautions) {
  for (const Obstacle& obstacle : storey.obstacles) {
    const double height_m = radio.place.height_m;
    if (height_m < obstacle.base_m || height_m >= obstacle.base_m + obstacle.height_m) continue;
    if (!contains(obstacle.corners, radio.place.at)) continue;
    cautions.push_back(quoted(radio.name) + " stands inside the obstacle " + quoted(obstacle.name) +
                       ": every path from it passes through.");
  }
}

void say_far_away(const Site& site, const Radio& radio, std::vector<std::string>& cautions) {
  double nearest_m = std::numeric_limits<double>::infinity();
  for (const Storey& storey : site.storeys) {
    for (const Room& room : storey.rooms) {
      const double away_m =
          contains(room.corners, radio.place.at) ? 0 : distance_to_edges(room.corners, radio.place.at);
      nearest_m = std::min(nearest_m, away_m);
      if (nearest_m <= kFarM) return;
    }
  }
  if (std::isinf(nearest_m)) return;  // a site without rooms
  cautions.push_back(quoted(radio.name) + " stands " + fixed_text(nearest_m, 0) +
                     " m from the nearest room: check its at_m.");
}

/// How far two nearly parallel walls run beside each other, and how far apart; a length of 0 when they do
/// not.
struct Beside {
  double length_m = 0;
  double apart_m = 0;
};

Beside beside(Segment2 wall, Segment2 other) {
  const double wall_m = length(wall);
  const double other_m = length(other);
  if (wall_m == 0 || other_m == 0) return {};
  const Point2 along = (1 / wall_m) * (wall.b - wall.a);
  if (std::abs(cross(along, other.b - other.a)) > kParallel * other_m) return {};
  const double from = dot(along, other.a - wall.a);
  const double to = dot(along, other.b - wall.a);
  const double begin = std::max(0.0, std::min(from, to));
  const double end = std::min(wall_m, std::max(from, to));
  if (end <= begin) return {};
  const double middle = ((begin + end) / 2 - from) / (to - from);
  return {end - begin, std::abs(cross(along, at_fraction(other, middle) - wall.a))};
}

/// Rooms drawn to the faces of a wall leave a gap where one wall should be.
void say_side_by_side(const std::vector<WallPiece>& plan, std::vector<std::string>& cautions) {
  std::vector<const WallPiece*> outer;
  std::vector<Box2> boxes;
  for (const WallPiece& piece : plan) {
    if (!piece.traced.empty() || piece.second != kOutside || !piece.construction) continue;
    outer.push_back(&piece);
    boxes.push_back(bounding_box({piece.line.a, piece.line.b}));
  }
  std::set<std::pair<std::string, std::string>> said;
  for_near_boxes(boxes, kSideBySideM, [&](std::size_t i, std::size_t j) {
    if (outer[i]->first == outer[j]->first) return true;
    const Beside found = beside(outer[i]->line, outer[j]->line);
    if (found.length_m < kLongEnoughM || found.apart_m > kSideBySideM) return true;
    if (!said.emplace(outer[i]->first, outer[j]->first).second) return true;
    cautions.push_back("The outer walls of " + quoted(outer[i]->first) + " and " + quoted(outer[j]->first) +
                       " run " + metres(found.apart_m) + " apart over " + metres(found.length_m) +
                       ": perhaps they are one wall; rooms are drawn to its middle line.");
    return said.size() < checks::kMostOfAKind;
  });
}

}  // namespace

std::vector<std::string> site_cautions(const Site& site) {
  std::vector<std::string> cautions;
  const bool uses_exponent =
      site.radio.model == PathLossModel::log_distance || site.radio.model == PathLossModel::walls;
  if (site.radio.exponent && !uses_exponent) {
    cautions.emplace_back("The exponent is not used: it serves the models log_distance and walls.");
  }
  std::vector<std::vector<WallPiece>> plans;
  for (const Storey& storey : site.storeys) {
    say_side_by_side(plans.emplace_back(wall_plan(storey)), cautions);
  }
  for (const Radio& radio : checks::radios(site)) {
    const Storey& storey = site.storeys[radio.place.storey];
    say_on_wall(storey, plans[radio.place.storey], radio, cautions);
    say_in_obstacle(storey, radio, cautions);
    say_far_away(site, radio, cautions);
  }
  return cautions;
}

}  // namespace linkmargin
