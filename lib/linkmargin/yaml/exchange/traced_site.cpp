#include "linkmargin/yaml/exchange/traced_site.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/text/faults.hpp"
#include "linkmargin/yaml/site/site_yaml.hpp"
#include "linkmargin/yaml/tree/scalar_text.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace linkmargin {
namespace {

using exchange::TracedBoundary;
using exchange::TracedOpening;
using exchange::TracedPlan;
using exchange::TracedStorey;

// Of the construction `solid brick`, which the file names.
constexpr const char* kOuterMaterial = "brick";
constexpr const char* kInnerMaterial = "stud wall";

constexpr double kHubFromWallM = 0.1;

/// Over the head of an opening some wall is left.
constexpr double kOverHeadM = 0.05;

std::string metres(double value_m) {
  return shortest_text(std::round(value_m * 1000) / 1000 + 0.0);  // no minus before a zero
}

std::string point_text(Point2 p) {
  return "[" + metres(p.x) + ", " + metres(p.y) + "]";
}

std::string between_text(const std::string& first, const std::string& second) {
  return "between: [" + yaml::scalar_text(first) + ", " + yaml::scalar_text(second) + "]";
}

std::string room_text(const Room& room) {
  std::string corners;
  for (const Point2 p : room.corners) corners += (corners.empty() ? "" : ", ") + point_text(p);
  return "      " + yaml::scalar_text(room.name) + ": {corners_m: [" + corners + "]}   # " +
         fixed_text(std::abs(signed_area(room.corners)), 1) + " m2\n";
}

std::string usual_wall_text(const char* key, const char* material, std::optional<double> thickness_m) {
  if (!thickness_m || *thickness_m <= 0) return {};
  return std::string("    ") + key + ": {material: " + material + ", thickness_m: " + metres(*thickness_m) +
         "}   # thickness as drawn, material assumed\n";
}

std::string boundary_text(const TracedBoundary& boundary) {
  const std::string between = "      - {" + between_text(boundary.first, boundary.second);
  if (boundary.open) return between + ", material: none}   # no wall drawn\n";
  const bool outer = boundary.first == kOutside || boundary.second == kOutside;
  return between + ", material: " + (outer ? kOuterMaterial : kInnerMaterial) +
         ", thickness_m: " + metres(boundary.thickness_m.value_or(0)) + "}\n";
}

std::string opening_text(const TracedOpening& opening, double storey_height_m) {
  std::string text = "      - {name: " + yaml::scalar_text(opening.name) +
                     ", kind: " + std::string(opening.kind) + ", " +
                     between_text(opening.first, opening.second) + ", at_m: " + point_text(opening.at) +
                     ", width_m: " + metres(opening.width_m);
  // Under a low ceiling the usual height does not fit.
  const bool window = opening.kind == "window";
  const double head_m = window || opening.kind == "garage door" ? 2.1 : 2;
  if (head_m + kOverHeadM > storey_height_m) {
    const double fits_m = storey_height_m - kOverHeadM;
    if (window) text += ", sill_m: " + metres(fits_m / 2);
    text += ", height_m: " + metres(window ? fits_m / 2 : fits_m);
  }
  return text + (opening.drawn ? "}\n" : "}   # assumed: a gap in the wall, nothing drawn in it\n");
}

template <typename Items, typename Write>
std::string list_text(const char* key, const Items& items, Write write) {
  if (items.empty()) return {};
  std::string text = std::string("    ") + key + ":\n";
  for (std::size_t i = 0; i < items.size(); ++i) text += write(items[i], i);
  return text;
}

std::string storey_text(const TracedStorey& storey) {
  const double height_m = storey.height_m.value_or(exchange::kStoreyHeightM);
  std::string text = "  - name: " + yaml::scalar_text(storey.name) + "\n";
  if (storey.level_m) text += "    level_m: " + metres(*storey.level_m) + "\n";
  text += "    height_m: " + metres(height_m) +
          (storey.height_m ? "\n" : "              # assumed: from floor to ceiling\n");
  text += usual_wall_text("outer_wall", kOuterMaterial, storey.outer_wall_m);
  text += usual_wall_text("inner_wall", kInnerMaterial, storey.inner_wall_m);
  text += "    rooms:                     # to the middle of their walls\n";
  for (const Room& room : storey.rooms) text += room_text(room);
  text += list_text("boundaries", storey.boundaries,
                    [](const TracedBoundary& one, std::size_t) { return boundary_text(one); });
  text += list_text("walls", storey.walls, [](const Segment2& line, std::size_t i) {
    return "      - {name: wall " + std::to_string(i + 1) + ", from_m: " + point_text(line.a) +
           ", to_m: " + point_text(line.b) + ", material: " + kInnerMaterial + "}\n";
  });
  text += list_text("openings", storey.openings,
                    [&](const TracedOpening& one, std::size_t) { return opening_text(one, height_m); });
  return text;
}

/// Before the middle of the longest wall of the largest room.
Point2 hub_place(const TracedStorey& storey) {
  const Room& room = *std::ranges::max_element(
      storey.rooms, {}, [](const Room& one) { return std::abs(signed_area(one.corners)); });
  const std::vector<Segment2> walls = edges(room.corners);
  const Segment2 wall = *std::ranges::max_element(walls, {}, [](const Segment2& one) { return length(one); });
  const Point2 along = (1 / length(wall)) * (wall.b - wall.a);
  const double half_m = std::max(storey.outer_wall_m.value_or(0.1), storey.inner_wall_m.value_or(0.1)) / 2;
  const double turn = signed_area(room.corners) > 0 ? 1 : -1;
  return at_fraction(wall, 0.5) + turn * (half_m + kHubFromWallM) * Point2{-along.y, along.x};
}

}  // namespace

Result<std::string> traced_site(const TracedPlan& plan, const std::string& name, const std::string& source,
                                const Tables& tables) {
  const TracedStorey& lowest = plan.storeys.front();
  const double hub_height_m = std::min(2.0, lowest.height_m.value_or(exchange::kStoreyHeightM) - 0.2);
  std::string text =
      "# Traced from the drawing " + shown(source) +
      ". What is marked as assumed is not in the drawing: look at the building and correct it.\n"
      "site: " +
      yaml::scalar_text(name) +
      "\n"
      "radio: {frequency_mhz: 868.3}   # assumed\n"
      "construction: solid brick      # assumed: how the house is built; docs/site-file.md lists "
      "others\n"
      "storeys:\n";
  for (const TracedStorey& storey : plan.storeys) text += storey_text(storey);
  text += "hubs:\n  hub: {storey: " + yaml::scalar_text(lowest.name) +
          ", at_m: " + point_text(hub_place(lowest)) + ", height_m: " + metres(hub_height_m) +
          "}   # assumed: put it where it hangs\n"
          "devices:                       # hall motion: {in: hall, at: corner bottom right}\n";
  const auto site = parse_site(text, source, tables);
  if (!site) return site.error();
  return text;
}

}  // namespace linkmargin
