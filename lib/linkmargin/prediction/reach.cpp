#include "linkmargin/prediction/reach.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

namespace linkmargin {

std::optional<double> reach_m(const std::optional<Mobility>& mobility) {
  if (!mobility) return {};
  const auto extent_m = [](const std::vector<Point2>& points) {
    const Box2 box = bounding_box(points);
    return distance(box.min, box.max);
  };
  if (const auto* radius = std::get_if<Mobility::Radius>(&mobility->reach)) return radius->radius_m;
  if (const auto* along = std::get_if<Mobility::Along>(&mobility->reach)) return extent_m(along->line);
  if (const auto* within = std::get_if<Mobility::Within>(&mobility->reach)) return extent_m(within->corners);
  return std::numeric_limits<double>::infinity();  // within a room
}

bool reaches(const Site& site, const Device& device, const Placement& place) {
  if (!device.may_move) return true;
  if (place.storey != device.place.storey) return false;
  const auto& reach = device.may_move->reach;
  if (const auto* radius = std::get_if<Mobility::Radius>(&reach)) {
    return std::hypot(distance(place.at, device.place.at), place.height_m - device.place.height_m) <=
           radius->radius_m + kReachSlackM;
  }
  if (const auto* along = std::get_if<Mobility::Along>(&reach)) {
    for (std::size_t i = 0; i + 1 < along->line.size(); ++i) {
      if (distance_to_segment(place.at, {along->line[i], along->line[i + 1]}) <= kReachSlackM) return true;
    }
    return false;
  }
  const auto holds = [&](const std::vector<Point2>& corners) {
    return contains(corners, place.at) || distance_to_edges(corners, place.at) <= kReachSlackM;
  };
  if (const auto* within = std::get_if<Mobility::Within>(&reach)) return holds(within->corners);
  const std::vector<Room>& rooms = site.storeys[place.storey].rooms;
  const auto room = std::ranges::find(rooms, std::get<Mobility::WithinRoom>(reach).room, &Room::name);
  return room != rooms.end() && holds(room->corners);
}

}  // namespace linkmargin
