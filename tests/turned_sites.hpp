#pragma once

#include "site_fixture.hpp"

#include <algorithm>
#include <numeric>
#include <optional>
#include <utility>

/// Random small sites, and the same sites drawn on the sheet in another way: what no level may depend on.
namespace turned {

using namespace linkmargin;

/// The grid of what is turned by any angle: what a careful person types.
inline constexpr double kTypedM = 0x1p-10;

/// Calls change(point) for every plan point of a site.
template <typename Change>
void for_points(Site& site, Change change) {
  const auto all = [&](Polygon2& corners) { std::ranges::for_each(corners, change); };
  for (Storey& storey : site.storeys) {
    for (Room& room : storey.rooms) all(room.corners);
    for (TracedWall& wall : storey.walls) change(wall.line.a), change(wall.line.b);
    for (Opening& opening : storey.openings) change(opening.at);
    for (Obstacle& obstacle : storey.obstacles) all(obstacle.corners);
    for (FloorOpening& hole : storey.floor_openings) all(hole.corners);
  }
  for (Hub& hub : site.hubs) change(hub.place.at);
  for (Device& device : site.devices) change(device.place.at);
}

template <typename Change>
Site with_points(Site site, Change change) {
  for_points(site, change);
  return site;
}

inline Site mirrored(const Site& site) {
  return with_points(site, [](Point2& p) { p.x = -p.x; });
}

inline Site quarter_turned(const Site& site, int quarters) {
  return with_points(site, [=](Point2& p) {
    for (int i = 0; i < quarters; ++i) p = {-p.y, p.x};
  });
}

inline Site shifted(const Site& site, Point2 by) {
  return with_points(site, [=](Point2& p) { p = p + by; });
}

/// Every coordinate rounded to kTypedM.
inline Site turned_by(const Site& site, double angle_deg) {
  const double c = std::cos(angle_deg * kPi / 180), s = std::sin(angle_deg * kPi / 180);
  const auto typed = [](double value) { return std::nearbyint(value / kTypedM) * kTypedM; };
  return with_points(site, [=](Point2& p) {
    p = {typed(c * p.x - s * p.y), typed(s * p.x + c * p.y)};
  });
}

/// The same nouns in another order, outlines begun elsewhere and run the other way, walls from their other
/// end. Hubs and devices keep their order, by which the caller knows them.
inline Site reordered(Site site, std::uint64_t seed) {
  const RandomStream random(seed, 7);
  std::uint64_t draw = 0;
  const auto below = [&](std::size_t count) {
    return static_cast<std::size_t>(random.uniform(draw++) * static_cast<double>(count));
  };
  const auto shuffle = [&](auto& list) {
    for (std::size_t i = list.size(); i > 1; --i) std::swap(list[i - 1], list[below(i)]);
  };
  const auto run_otherwise = [&](Polygon2& corners) {
    std::ranges::rotate(corners, corners.begin() + static_cast<std::ptrdiff_t>(below(corners.size())));
    if (below(2) == 0) std::ranges::reverse(corners);
  };
  std::vector<std::size_t> order(site.storeys.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  shuffle(order);
  std::vector<Storey> storeys;
  for (const std::size_t old : order) storeys.push_back(site.storeys[old]);
  const auto place = [&](Placement& at) {
    at.storey = static_cast<std::size_t>(std::ranges::find(order, at.storey) - order.begin());
  };
  for (Hub& hub : site.hubs) place(hub.place);
  for (Device& device : site.devices) place(device.place);
  site.storeys = std::move(storeys);
  for (Storey& storey : site.storeys) {
    shuffle(storey.rooms);
    shuffle(storey.walls);
    shuffle(storey.openings);
    shuffle(storey.obstacles);
    for (Room& room : storey.rooms) run_otherwise(room.corners);
    for (Obstacle& obstacle : storey.obstacles) run_otherwise(obstacle.corners);
    for (TracedWall& wall : storey.walls) {
      if (below(2) == 0) std::swap(wall.line.a, wall.line.b);
    }
    for (Opening& opening : storey.openings) {
      if (below(2) == 0) std::swap(opening.first, opening.second);
    }
  }
  return site;
}

/// Makes one random site; walls on eighths of a metre, as people like to draw, so that walls, gaps and lines
/// through them often fall on each other's lines.
class Maker {
 public:
  explicit Maker(std::uint64_t seed) : random_(seed, 3) {}

  Site made() {
    Site site = fixture::two_rooms();
    site.storeys.clear();
    site.hubs.clear();
    site.devices.clear();
    const int storeys = 1 + below(2);
    for (int s = 0; s < storeys; ++s) site.storeys.push_back(storey(s));
    site.hubs = {{.name = "hub",
                  .profile = "hub",
                  .place = free_place(site),
                  .capacity = {},
                  .may_move = {},
                  .near_mains_m = {}}};
    for (int i = 0; i < 4; ++i) {
      site.devices.push_back({.name = "device " + std::to_string(i),
                              .profile = "contact",
                              .place = free_place(site),
                              .slots = 1,
                              .hub = {},
                              .may_move = {},
                              .mount_loss_db = {},
                              .body_loss_db = {},
                              .note = {}});
    }
    site.radio.frequency_hz = below(2) == 0 ? 433.92e6 : 868.3e6;
    return site;
  }

 private:
  int below(int count) { return static_cast<int>(random_.uniform(draw_++) * count); }
  double within(double from_m, double to_m) { return from_m + random_.uniform(draw_++) * (to_m - from_m); }
  double eighth(double from_m, double to_m) { return std::nearbyint(within(from_m, to_m) * 8) / 8; }
  Construction construction() {
    const int kind = below(5);
    if (kind == 0) return {"brick", 0.25};
    if (kind == 1) return {"brick", 0.1};
    return {kind == 2 ? "board" : kind == 3 ? "heavy" : "steel", {}};
  }

  Storey storey(int s) {
    Storey made = fixture::storey("storey " + std::to_string(s), 2.75 * s, 2.5);
    made.floor = Construction{"slab", 0.25};
    made.outer_wall = construction();
    made.inner_wall = construction();
    if (below(6) != 0) add_rooms(made);
    const int screens = below(4);
    for (int i = 0; i < screens; ++i) add_screen(made, i);
    if (below(2) == 0) add_rack(made);
    if (!made.rooms.empty() && made.level_m > 0 && below(2) == 0) {
      made.floor_openings = {{"stairwell", rectangle({eighth(0, 4), eighth(0, 4)}, 1.5, 2)}};
    }
    return made;
  }

  /// Columns of rooms, each with its own rows, so that walls meet others in their middles.
  void add_rooms(Storey& storey) {
    double x = 0;
    const int columns = 1 + below(3);
    for (int c = 0; c < columns; ++c) {
      const double width_m = eighth(2.5, 5);
      double y = 0;
      const int rows = 1 + below(3);
      for (int r = 0; r < rows; ++r) {
        const double depth_m = eighth(2.5, 5);
        const std::string name = storey.name + " room " + std::to_string(c) + "." + std::to_string(r);
        const std::string under = r == 0 ? kOutside : storey.rooms.back().name;
        storey.rooms.push_back({name, rectangle({x, y}, width_m, depth_m)});
        if (below(3) != 0) add_door(storey, name, under, {x + eighth(0.625, width_m - 0.625), y});
        if (c == 0 && below(3) == 0) add_door(storey, name, kOutside, {x, y + eighth(0.625, depth_m - 0.625)});
        y += depth_m;
      }
      x += width_m;
    }
  }

  void add_door(Storey& storey, const std::string& room, const std::string& other, Point2 at) {
    Opening door;
    door.name = "door of " + room + " to " + other;
    door.first = room;
    door.second = other;
    door.at = at;
    const bool window = below(3) == 0;
    door.width_m = window ? 1.25 : 0.875;
    door.sill_m = window ? 0.875 : 0;
    door.height_m = window ? 1.25 : 2;
    door.leaf = below(2) == 0 ? Construction{kNoMaterial, {}} : Construction{"leaf", {}};
    storey.openings.push_back(door);
  }

  void add_screen(Storey& storey, int i) {
    const Point2 from{eighth(-1, 12), eighth(-1, 12)};
    const int lie = below(3);
    const Point2 by{lie == 0 ? 0 : eighth(1, 4), lie == 1 ? 0 : eighth(1, 4)};
    TracedWall wall{.name = storey.name + " screen " + std::to_string(i),
                    .line = {from, from + by},
                    .construction = construction(),
                    .height_m = {}};
    if (below(3) == 0) wall.height_m = eighth(1, 2);
    storey.walls.push_back(wall);
  }

  void add_rack(Storey& storey) {
    Obstacle rack;
    rack.name = storey.name + " rack";
    rack.corners = rectangle({eighth(-1, 8), eighth(-1, 8)}, eighth(0.5, 2), eighth(0.5, 1));
    rack.height_m = eighth(1, 2.25);
    rack.construction = {"steel", {}};
    storey.obstacles.push_back(rack);
  }

  /// Clear of walls and their ends, where a millimetre counts little; often on the line of one.
  Placement free_place(const Site& site) {
    while (true) {
      Placement place{static_cast<std::size_t>(below(static_cast<int>(site.storeys.size()))), {}, 0};
      const auto hundred_twenty_eighth = [&] { return std::nearbyint(within(-3, 14) * 128) / 128; };
      place.at.x = hundred_twenty_eighth();
      place.at.y = hundred_twenty_eighth();
      place.height_m = std::nearbyint(within(0.25, 2.25) * 16) / 16;
      if (is_clear(site.storeys[place.storey], place.at)) return place;
    }
  }

  static bool is_clear(const Storey& storey, Point2 at) {
    constexpr double kOffM = 0.25;
    const auto off = [&](Segment2 line) { return distance_to_segment(at, line) > kOffM; };
    const auto all_off = [&](const Polygon2& corners) { return std::ranges::all_of(edges(corners), off); };
    return std::ranges::all_of(storey.walls, [&](const TracedWall& wall) { return off(wall.line); }) &&
           std::ranges::all_of(storey.rooms, [&](const Room& room) { return all_off(room.corners); }) &&
           std::ranges::all_of(storey.obstacles, [&](const Obstacle& rack) {
             return all_off(rack.corners) && !contains(rack.corners, at);
           });
  }

  RandomStream random_;
  std::uint64_t draw_ = 0;
};

/// A sound site of one or two storeys, perhaps with rooms, walls that stand alone, openings, racks and holes
/// in the slab; a hub and four devices.
inline Site random_site(std::uint64_t seed) {
  for (std::uint64_t k = 0;; ++k) {
    Site site = Maker(1000 * seed + k).made();
    if (validate(site).empty()) return site;
  }
}

}  // namespace turned
