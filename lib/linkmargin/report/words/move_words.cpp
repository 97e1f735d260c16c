#include "linkmargin/report/words/move_words.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/site/site_radios.hpp"
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

/// Rooms of its storey but its own.
std::vector<Landmark> other_rooms(const Site& site, const Placement& from) {
  std::vector<Landmark> found;
  const Storey& storey = site.storeys[from.storey];
  const Room* own = checks::room_at(storey, from.at);
  for (const Room& room : storey.rooms) {
    if (own == nullptr || room.name != own->name) found.push_back({room.name, label_point(room.corners)});
  }
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

/// As the sheet lies.
enum class PlanDirection { right, left, up, down, up_right, up_left, down_right, down_left };

/// As in the catalogue.
constexpr const char* kDirectionWords[] = {"right",    "left",    "up",         "down",
                                           "up_right", "up_left", "down_right", "down_left"};

PlanDirection direction_of(Point2 move) {
  constexpr double steep = 2.4;  // tan 67.5 degrees
  const bool right = move.x > 0, up = move.y > 0;
  const double x = std::abs(move.x), y = std::abs(move.y);
  if (x > steep * y) return right ? PlanDirection::right : PlanDirection::left;
  if (y > steep * x) return up ? PlanDirection::up : PlanDirection::down;
  if (up) return right ? PlanDirection::up_right : PlanDirection::up_left;
  return right ? PlanDirection::down_right : PlanDirection::down_left;
}

/// What lies the way of a move: a thing on site, else a room.
std::optional<std::string> landmark_ahead(const Site& site, const Placement& from, Point2 move) {
  const auto thing = toward(landmarks(site, from), from.at, move);
  return thing ? thing : toward(other_rooms(site, from), from.at, move);
}

}  // namespace

std::string move_words(const Wording& wording, const Site& site, const Placement& from, const Placement& to) {
  const Point2 by = to.at - from.at;
  const Language::Place far{"far", wording.length(std::hypot(by.x, by.y))};
  const auto thing = landmark_ahead(site, from, by);
  const std::string direction = kDirectionWords[static_cast<std::size_t>(direction_of(by))];
  const std::string move = thing ? wording.say("move.toward", {far, {"thing", wording.name(*thing)}})
                                 : wording.say("move." + direction, {far});
  const std::string room = wording.room(site, to);
  return room == wording.room(site, from) ? move : wording.say("move.into", {{"move", move}, {"room", room}});
}

std::string off_metal_words(const Wording& wording, const Site& site, const std::string& radio,
                            const Placement& to) {
  const std::vector<SiteRadio> all = site_radios(site);
  const auto found = std::ranges::find_if(all, [&](const SiteRadio& one) { return one.name == radio; });
  if (found == all.end() || !found->mount || !leaves_mount(found->place, to)) return {};
  return wording.say("remedy.off_metal");
}

}  // namespace linkmargin
