#include "linkmargin/analysis/placement/model/placement_places.hpp"

#include "linkmargin/analysis/relocation/move_places.hpp"
#include "linkmargin/site/storey_extent.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

namespace linkmargin {
namespace {

/// Between the spots of a radio that turns about its place or slides on a line, at most: they are few.
constexpr double kSpotStepM = 0.25;

bool named_by_something(const Site& site, const std::string& hub) {
  const auto names = [&](const auto& served) { return served.hub == hub; };
  return std::ranges::any_of(site.devices, names) || std::ranges::any_of(site.areas, names);
}

/// Whether two radios do the same at a place and may go to the same places.
bool alike(const Site& site, const PlacedRadio& one, const PlacedRadio& other) {
  const auto apart = [&](const PlacedRadio& radio) {
    return radio.radio.fixed || radio.radio.may_move || radio.radio.near_mains_m ||
           named_by_something(site, radio.radio.name);
  };
  return !apart(one) && !apart(other) && one.repeater == other.repeater &&
         one.radio.profile == other.radio.profile && one.radio.capacity == other.radio.capacity &&
         one.radio.mount == other.radio.mount && one.radio.place.height_m == other.radio.place.height_m;
}

/// Finds places and numbers them.
class Places {
 public:
  Places(const Site& site, const Scene& scene, double step_m) : site_(site), scene_(scene) {
    found_.step_m = step_m;
    has_rooms_ =
        std::ranges::any_of(site.storeys, [](const Storey& storey) { return !storey.rooms.empty(); });
  }

  PlaceGroup group(std::vector<PlacedRadio> radios) {
    PlaceGroup group{std::move(radios), {}};
    const Hub& radio = group.radios.front().radio;
    if (radio.fixed) {
      group.points.push_back(off_grid(radio.place));
      return group;
    }
    for (const PlacedRadio& one : group.radios) {
      if (one.present && !kept_out(one.radio.place)) group.points.push_back(off_grid(one.radio.place));
    }
    if (radio.may_move && (std::holds_alternative<Mobility::Radius>(radio.may_move->reach) ||
                           std::holds_alternative<Mobility::Along>(radio.may_move->reach))) {
      const double step_m = std::min(found_.step_m, kSpotStepM);
      for (const Point2 at : move_places(scene_, site_, radio.place, radio.may_move, step_m)) {
        const Placement place{radio.place.storey, at, radio.place.height_m};
        if (near_mains(radio, place) && !kept_out(place)) group.points.push_back(off_grid(place));
      }
      return group;
    }
    const bool own_storey = radio.may_move.has_value() || radio.near_mains_m.has_value();
    for (std::size_t s = 0; s < site_.storeys.size(); ++s) {
      if (!own_storey || s == radio.place.storey) cells(group, radio, s);
    }
    return group;
  }

  PlacementPlaces take() { return std::move(found_); }
  void add(PlaceGroup group) { found_.groups.push_back(std::move(group)); }

  /// Whether a radio may go to a place of no grid.
  bool may(const Hub& radio, const Placement& place) {
    if (radio.fixed || kept_out(place) || !near_mains(radio, place)) return false;
    const Storey& storey = site_.storeys[place.storey];
    const Room* room = checks::room_at(storey, place.at);
    if (room != nullptr && distance_to_edges(room->corners, place.at) < kWallClearanceM) return false;
    if (blocked(storey, place)) return false;
    if (!radio.may_move) return !has_rooms_ || room != nullptr;
    if (place.storey != radio.place.storey) return false;
    if (const auto* within = std::get_if<Mobility::WithinRoom>(&radio.may_move->reach))
      return room != nullptr && room->name == within->room;
    if (const auto* within = std::get_if<Mobility::Within>(&radio.may_move->reach))
      return contains(within->corners, place.at);
    return false;
  }

  std::uint32_t off_grid(const Placement& place) {
    found_.points.push_back({place, -1, 0});
    return static_cast<std::uint32_t>(found_.points.size() - 1);
  }

 private:
  bool kept_out(const Placement& place) const {
    const Room* room = checks::room_at(site_.storeys[place.storey], place.at);
    return room != nullptr && room->keep_out;
  }

  static bool near_mains(const Hub& radio, const Placement& place) {
    if (!radio.near_mains_m) return true;
    return place.storey == radio.place.storey && distance(place.at, radio.place.at) <= *radio.near_mains_m;
  }

  static bool stands_at(double base_m, double top_m, double height_m) {
    return height_m >= base_m && height_m <= top_m;
  }

  bool blocked(const Storey& storey, const Placement& place) const {
    const auto in = [&](const Obstacle& obstacle) {
      return stands_at(obstacle.base_m, obstacle.base_m + obstacle.height_m, place.height_m) &&
             contains(obstacle.corners, place.at);
    };
    const auto on = [&](const TracedWall& wall) {
      return place.height_m <= wall.height_m.value_or(storey.height_m) &&
             distance_to_edges({wall.line.a, wall.line.b}, place.at) < kWallClearanceM;
    };
    return std::ranges::any_of(storey.obstacles, in) || std::ranges::any_of(storey.walls, on);
  }

  /// The level of a storey at a height, made when first asked for.
  int level(std::size_t storey, double height_m) {
    for (std::size_t i = 0; i < found_.levels.size(); ++i) {
      if (found_.levels[i].storey == storey && found_.levels[i].height_m == height_m)
        return static_cast<int>(i);
    }
    const Box2 box = storey_box(storey);
    const auto count = [&](double size) {
      return std::max(1, static_cast<int>(std::ceil(size / found_.step_m - 1e-9)));
    };
    const Point2 size = box.max - box.min;
    found_.levels.push_back(
        {storey,
         height_m,
         {box.min, found_.step_m, count(size.x), count(size.y), site_.storeys[storey].level_m + height_m}});
    numbered_.emplace_back(found_.levels.back().grid.size(), kNone);
    return static_cast<int>(found_.levels.size() - 1);
  }

  Box2 storey_box(std::size_t storey) const {
    Box2 box = Box2::nothing();
    for (const Room& room : site_.storeys[storey].rooms) box.take(bounding_box(room.corners));
    if (box.empty()) box = storey_extent(site_, storey);
    return box.empty() ? Box2{{0, 0}, {found_.step_m, found_.step_m}} : box;
  }

  /// Visits the cells of a level whose centre lies in a box.
  template <typename Visit>
  static void each_cell(const LevelGrid& grid, const Box2& box, Visit visit) {
    const auto first = [&](double low, double corner) {
      return std::max(0, static_cast<int>(std::floor((low - corner) / grid.step_m - 0.5)));
    };
    const auto last = [&](double high, double corner, int count) {
      return std::min(count - 1, static_cast<int>(std::ceil((high - corner) / grid.step_m - 0.5)));
    };
    for (int row = first(box.min.y, grid.corner.y); row <= last(box.max.y, grid.corner.y, grid.rows); ++row) {
      for (int column = first(box.min.x, grid.corner.x);
           column <= last(box.max.x, grid.corner.x, grid.columns); ++column) {
        const auto cell = static_cast<std::size_t>(row) * static_cast<std::size_t>(grid.columns) +
                          static_cast<std::size_t>(column);
        visit(cell, snapped(grid.centre(cell).plan()));
      }
    }
  }

  void cells(PlaceGroup& group, const Hub& radio, std::size_t s) {
    const Storey& storey = site_.storeys[s];
    const double height_m =
        s == radio.place.storey ? radio.place.height_m : std::min(radio.place.height_m, storey.height_m);
    if (has_rooms_ && storey.rooms.empty() && !radio.may_move) return;
    const int at_level = level(s, height_m);
    const LevelGrid grid = found_.levels[static_cast<std::size_t>(at_level)].grid;
    const std::vector<std::uint8_t> open = open_cells(radio, storey, grid, height_m);
    std::vector<std::uint32_t>& numbers = numbered_[static_cast<std::size_t>(at_level)];
    const auto count = static_cast<std::size_t>(std::ranges::count(open, 1));
    group.points.reserve(group.points.size() + count);
    found_.points.reserve(found_.points.size() + count);
    for (std::size_t cell = 0; cell < open.size(); ++cell) {
      if (open[cell] == 0) continue;
      const Placement place{s, snapped(grid.centre(cell).plan()), height_m};
      if (!near_mains(radio, place)) continue;
      if (numbers[cell] == kNone) {
        numbers[cell] = static_cast<std::uint32_t>(found_.points.size());
        found_.points.push_back({place, at_level, static_cast<std::uint32_t>(cell)});
      }
      group.points.push_back(numbers[cell]);
    }
  }

  /// 1 for each cell where a radio may go, but for the supply.
  std::vector<std::uint8_t> open_cells(const Hub& radio, const Storey& storey, const LevelGrid& grid,
                                       double height_m) const {
    const Mobility* may_move = radio.may_move ? &*radio.may_move : nullptr;
    const auto* room_only =
        may_move == nullptr ? nullptr : std::get_if<Mobility::WithinRoom>(&may_move->reach);
    const auto* corners = may_move == nullptr ? nullptr : std::get_if<Mobility::Within>(&may_move->reach);
    std::vector<std::uint8_t> open(grid.size(), !has_rooms_ && corners == nullptr ? 1 : 0);
    const auto open_in = [&](const Polygon2& outline) {
      each_cell(grid, bounding_box(outline), [&](std::size_t cell, Point2 at) {
        if (contains(outline, at)) open[cell] = 1;
      });
    };
    if (corners != nullptr) open_in(corners->corners);
    for (const Room& room : storey.rooms) {
      const bool wanted = corners == nullptr && (room_only == nullptr || room.name == room_only->room);
      if (wanted && !room.keep_out) open_in(room.corners);
    }
    const Point2 margin{kWallClearanceM, kWallClearanceM};
    const auto close = [&](const Box2& box, auto taken) {
      each_cell(grid, {box.min - margin, box.max + margin}, [&](std::size_t cell, Point2 at) {
        if (open[cell] != 0 && taken(at)) open[cell] = 0;
      });
    };
    for (const Room& room : storey.rooms) {
      if (room.keep_out)
        close(bounding_box(room.corners), [&](Point2 at) { return contains(room.corners, at); });
      for (const Segment2& edge : edges(room.corners)) close_wall(close, edge);
    }
    for (const TracedWall& wall : storey.walls) {
      if (height_m <= wall.height_m.value_or(storey.height_m)) close_wall(close, wall.line);
    }
    for (const Obstacle& obstacle : storey.obstacles) {
      if (stands_at(obstacle.base_m, obstacle.base_m + obstacle.height_m, height_m))
        close(bounding_box(obstacle.corners), [&](Point2 at) { return contains(obstacle.corners, at); });
    }
    return open;
  }

  template <typename Close>
  static void close_wall(Close& close, const Segment2& line) {
    const Polygon2 ends{line.a, line.b};
    close(bounding_box(ends), [&](Point2 at) { return distance_to_edges(ends, at) < kWallClearanceM; });
  }

  const Site& site_;
  const Scene& scene_;
  bool has_rooms_ = false;
  PlacementPlaces found_;
  std::vector<std::vector<std::uint32_t>> numbered_;  // points by level and cell
};

}  // namespace

std::vector<std::vector<PlacedRadio>> placed_kinds(const Site& site, const std::vector<PlacedRadio>& radios) {
  std::vector<std::vector<PlacedRadio>> kinds;
  for (const PlacedRadio& radio : radios) {
    const auto kind = std::ranges::find_if(
        kinds, [&](const std::vector<PlacedRadio>& known) { return alike(site, known.front(), radio); });
    if (kind == kinds.end()) {
      kinds.push_back({radio});
    } else {
      kind->push_back(radio);
    }
  }
  return kinds;
}

PlacementPlaces placement_places(const Site& site, const Scene& scene, const std::vector<PlacedRadio>& radios,
                                 double step_m) {
  Places places(site, scene, step_m);
  for (std::vector<PlacedRadio>& kind : placed_kinds(site, radios)) places.add(places.group(std::move(kind)));
  return places.take();
}

PlacementPlaces places_near(const Site& site, const Scene& scene, const PlacementPlaces& all,
                            const std::vector<PlacementPart>& parts, double step_m) {
  Places places(site, scene, step_m);
  for (std::uint32_t g = 0; g < all.groups.size(); ++g) {
    PlaceGroup group{all.groups[g].radios, {}};
    for (const PlacementPart part : parts) {
      if (part.group != g) continue;
      const Placement& at = all.point(part).place;
      group.points.push_back(places.off_grid(at));
      for (int row = -1; row <= 1; ++row) {
        for (int column = -1; column <= 1; ++column) {
          const Placement place{at.storey, snapped(at.at + step_m * Point2{1.0 * column, 1.0 * row}),
                                at.height_m};
          if ((row != 0 || column != 0) && places.may(group.radios.front().radio, place))
            group.points.push_back(places.off_grid(place));
        }
      }
    }
    places.add(std::move(group));
  }
  return places.take();
}

}  // namespace linkmargin
