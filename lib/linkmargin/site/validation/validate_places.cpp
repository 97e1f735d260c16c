#include "linkmargin/base/number_text.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>
#include <limits>

namespace linkmargin::checks {
namespace {

/// The storey whose clear height holds a height above the site's zero, or nothing.
const Storey* storey_at(const Site& site, double z_m) {
  const auto found = std::ranges::find_if(site.storeys, [z_m](const Storey& storey) {
    return z_m >= storey.level_m - kSlackM && z_m <= storey.ceiling_m() + kSlackM;
  });
  return found == site.storeys.end() ? nullptr : &*found;
}

/// A radio in a room stays between its floor and its ceiling.
void check_in_room(const Site& site, const SiteRadio& radio, const Room& room, Diagnostics& faults) {
  const Storey& storey = site.storeys[radio.place.storey];
  const double height_m = radio.place.height_m;
  const bool over = height_m > storey.height_m + kSlackM;
  if (!over && height_m >= -kSlackM) return;
  const double z_m = site.z_m(radio.place);
  std::string hint = "no storey holds that height";
  if (const Storey* right = storey_at(site, z_m)) {
    hint = "storey " + quoted(right->name) + " holds that height, as height_m " +
           (site.units.length == LengthUnit::foot ? length_text(z_m - right->level_m, LengthUnit::foot)
                                                  : fixed_text(z_m - right->level_m, 2));
  }
  add(faults, DiagnosticCode::misplaced, pointer({radio.map, radio.name, "height_m"}),
      quoted(radio.name) + " at " + length_text(height_m, site.units.length) + " is " +
          (over ? "above the ceiling (" + length_text(storey.height_m, site.units.length) + ")"
                : std::string("below the floor")) +
          " of " + quoted(room.name) + " in storey " + quoted(storey.name),
      hint)
      .names = {radio.name, room.name, storey.name};
}

/// Outside the rooms there is no ceiling, but a radio still belongs to the building.
void check_outdoors(const Site& site, const SiteRadio& radio, Diagnostics& faults) {
  double lowest_m = std::numeric_limits<double>::infinity();
  double highest_m = -lowest_m;
  for (const Storey& storey : site.storeys) {
    lowest_m = std::min(lowest_m, storey.level_m);
    highest_m = std::max(highest_m, storey.ceiling_m());
  }
  const double z_m = site.z_m(radio.place);
  if (z_m >= lowest_m - 1 && z_m <= highest_m + kAboveRoofM) return;
  add(faults, DiagnosticCode::misplaced, pointer({radio.map, radio.name, "height_m"}),
      quoted(radio.name) + " stands " + length_text(z_m, site.units.length) +
          " above the site's zero, outside every storey: they reach from " +
          length_text(lowest_m, site.units.length) + " to " + length_text(highest_m, site.units.length),
      "height_m counts from the floor of its storey");
}

double distance_to_line(const std::vector<Point2>& line, Point2 p) {
  double nearest = line.size() == 1 ? distance(line.front(), p) : std::numeric_limits<double>::infinity();
  for (std::size_t i = 1; i < line.size(); ++i) {
    nearest = std::min(nearest, distance_to_segment(p, {line[i - 1], line[i]}));
  }
  return nearest;
}

double distance_to_inside(const Polygon2& corners, Point2 p) {
  return contains(corners, p) ? 0 : distance_to_edges(corners, p);
}

/// What each kind of reach asks of the place that the radio has now.
struct ReachCheck {
  const Storey& storey;
  const SiteRadio& radio;
  LengthUnit unit;
  Diagnostics& faults;

  void check(const std::string& path, double away_m, const std::string& reach,
             std::vector<std::string> names = {}) const {
    if (away_m <= kReachSlackM) return;
    add(faults, DiagnosticCode::misplaced, path,
        quoted(radio.name) + " stands " + length_text(away_m, unit) + " away from " + reach)
        .names = std::move(names);
  }

  void operator()(const Mobility::Radius&) const {}

  void operator()(const Mobility::Along& along) const {
    const std::string path = pointer({radio.map, radio.name, "may_move", "along_m"});
    if (along.line.size() < 2) {
      add(faults, DiagnosticCode::impossible, path, "a line to slide on needs two points");
      return;
    }
    check(path, distance_to_line(along.line, radio.place.at), "the line that it may slide on");
  }

  void operator()(const Mobility::WithinRoom& within) const {
    const std::string path = pointer({radio.map, radio.name, "may_move", "within"});
    const Room* room = find_room(storey, within.room);
    if (room == nullptr) {
      add_unknown(faults, path, "room", within.room, [&] { return names_of(storey.rooms); });
      return;
    }
    check(path, distance_to_inside(room->corners, radio.place.at),
          "room " + quoted(room->name) + ", within which it may move", {room->name});
  }

  void operator()(const Mobility::Within& within) const {
    const std::string path = pointer({radio.map, radio.name, "may_move", "within_m"});
    if (!check_polygon(within.corners, path, "the outline within which " + quoted(radio.name) + " may move",
                       faults)) {
      return;
    }
    check(path, distance_to_inside(within.corners, radio.place.at), "the outline within which it may move");
  }
};

}  // namespace

void check_height(const Site& site, const SiteRadio& radio, Diagnostics& faults) {
  if (const Room* room = room_at(site.storeys[radio.place.storey], radio.place.at)) {
    check_in_room(site, radio, *room, faults);
  } else {
    check_outdoors(site, radio, faults);
  }
}

void check_places(const Site& site, Diagnostics& faults) {
  for (const SiteRadio& radio : site_radios(site)) {
    if (radio.place.storey >= site.storeys.size()) {
      add(faults, DiagnosticCode::misplaced, pointer({radio.map, radio.name, "storey"}),
          quoted(radio.name) + " stands on no storey");
      continue;
    }
    check_height(site, radio, faults);
    const Storey& storey = site.storeys[radio.place.storey];
    if (radio.may_move)
      std::visit(ReachCheck{storey, radio, site.units.length, faults}, radio.may_move->reach);
  }
  for (const Area& area : site.areas) {
    if (area.storey >= site.storeys.size()) {
      add(faults, DiagnosticCode::misplaced, pointer({"areas", area.name, "storey"}),
          quoted(area.name) + " lies on no storey");
    }
    check_polygon(area.corners, pointer({"areas", area.name, "corners_m"}), "area " + quoted(area.name),
                  faults);
  }
}

}  // namespace linkmargin::checks
