#include "linkmargin/report/words/move_words.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

namespace linkmargin {
namespace {

/// Something that a person on site sees.
struct Landmark {
  std::string name;
  Point2 at;
};

constexpr double kAsideCos = 0.9;  ///< a landmark up to 26 degrees off the way lies that way

/// What is seen from a place: in its room, where it has one, or in the walls about it.
std::vector<Landmark> landmarks(const Site& site, const Placement& from) {
  constexpr double kInWallM = 0.3;
  const std::size_t storey = from.storey;
  std::vector<Landmark> found;
  for (const Opening& opening : site.storeys[storey].openings) found.push_back({opening.name, opening.at});
  for (const Obstacle& obstacle : site.storeys[storey].obstacles)
    found.push_back({obstacle.name, centroid(obstacle.corners)});
  for (const Hub& hub : site.hubs) {
    if (hub.place.storey == storey) found.push_back({hub.name, hub.place.at});
  }
  const Room* room = checks::room_at(site.storeys[storey], from.at);
  std::erase_if(found, [&](const Landmark& landmark) {
    return room != nullptr && !contains(room->corners, landmark.at) &&
           distance_to_edges(room->corners, landmark.at) > kInWallM;
  });
  return found;
}

std::vector<Landmark> rooms(const Site& site, std::size_t storey) {
  std::vector<Landmark> found;
  for (const Room& room : site.storeys[storey].rooms) found.push_back({room.name, label_point(room.corners)});
  return found;
}

/// The nearest that lies the way of the move, and no nearer than half of it.
std::optional<std::string> toward(const std::vector<Landmark>& among, Point2 from, Point2 move) {
  const double move_m = std::hypot(move.x, move.y);
  std::optional<std::string> name;
  double nearest_m = 0;
  for (const Landmark& landmark : among) {
    const Point2 way = landmark.at - from;
    const double way_m = std::hypot(way.x, way.y);
    if (way_m < move_m / 2 || dot(way, move) < kAsideCos * way_m * move_m) continue;
    if (name && way_m >= nearest_m) continue;
    name = landmark.name;
    nearest_m = way_m;
  }
  return name;
}

std::string plan_direction(Point2 move) {
  const double steep = 2.4;  // tan 67.5 degrees
  const std::string across = move.x > 0 ? "right" : "left";
  const std::string up = move.y > 0 ? "up" : "down";
  const double x = std::abs(move.x), y = std::abs(move.y);
  return (x > steep * y ? across : y > steep * x ? up : up + " and " + across) + " on the plan";
}

/// The same as a code.
PlanDirection direction_of(Point2 move) {
  constexpr double steep = 2.4;  // tan 67.5 degrees
  const bool right = move.x > 0, up = move.y > 0;
  const double x = std::abs(move.x), y = std::abs(move.y);
  if (x > steep * y) return right ? PlanDirection::right : PlanDirection::left;
  if (y > steep * x) return up ? PlanDirection::up : PlanDirection::down;
  if (up) return right ? PlanDirection::up_right : PlanDirection::up_left;
  return right ? PlanDirection::down_right : PlanDirection::down_left;
}

constexpr const char* kDirections[] = {"right",    "left",    "up",         "down",
                                       "up_right", "up_left", "down_right", "down_left"};

}  // namespace

MoveWay move_way(const Site& site, const Placement& from, const Placement& to) {
  const Point2 move = to.at - from.at;
  MoveWay way{.distance_m = std::hypot(move.x, move.y), .on_plan = plan_direction(move), .direction = direction_of(move)};
  way.toward = toward(landmarks(site, from), from.at, move);
  if (!way.toward) way.toward = toward(rooms(site, from.storey), from.at, move);
  return way;
}

std::string move_words(const Site& site, const Placement& from, const Placement& to) {
  const MoveWay way = move_way(site, from, to);
  const std::string far = way.distance_m < 1 ? with_unit(100 * way.distance_m, 0, "cm")
                                             : with_unit(way.distance_m, 1, "m");
  return far + " " + (way.toward ? "toward " + quoted_name(*way.toward) : way.on_plan);
}

std::string move_words(const Wording& wording, const Site& site, const Placement& from, const Placement& to) {
  const MoveWay way = move_way(site, from, to);
  const Language::Place far{"far", wording.length(way.distance_m)};
  const std::string direction = kDirections[static_cast<std::size_t>(way.direction)];
  const std::string move = way.toward ? wording.say("move.toward", {far, {"thing", wording.name(*way.toward)}})
                                      : wording.say("move." + direction, {far});
  const std::string room = wording.room(site, to);
  return room == wording.room(site, from) ? move : wording.say("move.into", {{"move", move}, {"room", room}});
}

std::string place_words(const Site& site, const Placement& place) {
  const std::string at = "(" + fixed_text(place.at.x, 2) + ", " + fixed_text(place.at.y, 2) + ")";
  const Room* room = checks::room_at(site.storeys[place.storey], place.at);
  return at + (room == nullptr ? "" : " in " + quoted_name(room->name));
}

}  // namespace linkmargin
