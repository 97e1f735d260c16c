#include "linkmargin/site/validation/checks.hpp"

#include "linkmargin/base/joined.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/site/trade_words.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin::checks {

std::string pointer(std::initializer_list<std::string_view> tokens) {
  std::string path;
  for (const std::string_view token : tokens) {
    path += '/';
    path += pointer_token(std::string(token));
  }
  return path;
}

std::string quoted(std::string_view name) {
  std::string text(1, '\'');
  text += name;
  text += '\'';
  return text;
}

std::string place_text(Point2 p) {
  const auto rounded = [](double coordinate_m) {
    return shortest_text(std::round(coordinate_m * 1000) / 1000 + 0.0);
  };
  std::string text(1, '(');
  text += rounded(p.x);
  text += ", ";
  text += rounded(p.y);
  text += ')';
  return text;
}

Diagnostic& add(Diagnostics& faults, DiagnosticCode code, std::string path, std::string message,
                std::string hint) {
  Diagnostic fault;
  fault.code = code;
  fault.path = std::move(path);
  fault.message = std::move(message);
  fault.hint = std::move(hint);
  return faults.emplace_back(std::move(fault));
}

namespace {

/// Whether the names near to one more unknown name are worth a search: few were unknown before, or few are
/// known.
bool search_is_cheap(std::size_t faults, std::size_t known) {
  constexpr std::size_t most_names = 100'000;  // compared in one file: some 0.1 s
  return faults < kMostHints && faults * known < most_names;
}

/// For "brick 12": a thickness whose unit is missing, as it may have been meant.
std::string bare_thickness_hint(std::string_view name, const std::vector<std::string>& known) {
  const std::size_t blank = name.rfind(' ');
  if (blank == std::string_view::npos) return {};
  const std::string material(name.substr(0, blank));
  const auto figure = parse_number(name.substr(blank + 1));
  if (!figure || std::ranges::find(known, material) == known.end()) return {};
  constexpr double thickest_m = 2;  // common practice
  constexpr double thickest_cm = 60;
  const double metres = *figure <= thickest_m    ? *figure
                        : *figure <= thickest_cm ? *figure / 100
                                                 : *figure / 1000;
  return "did you mean '" + material + " " + shortest_text(metres) + " m'? a thickness takes its unit";
}

/// Where the names are found that nothing written comes near to.
std::string names_hint(std::string_view what, const std::vector<std::string>& known) {
  if (what == "material") return "`linkmargin materials` lists the names";
  if (what != "profile" || known.empty()) return {};
  constexpr std::size_t most = 40;
  std::string text = "known are: ";
  for (std::size_t i = 0; i < std::min(known.size(), most); ++i) text += (i == 0 ? "" : ", ") + known[i];
  return known.size() > most ? text + ", ..." : text;
}

}  // namespace

void add_unknown(Diagnostics& faults, std::string path, std::string_view what, std::string_view name,
                 const std::vector<std::string>& known) {
  std::string near = what == "material" ? bare_thickness_hint(name, known) : std::string();
  if (near.empty() && search_is_cheap(faults.size(), known.size())) near = name_hint(what, name, known);
  Diagnostic& fault = add(faults, DiagnosticCode::unknown_name, std::move(path),
                          "unknown " + std::string(what) + " " + quoted(name), near);
  if (!near.empty()) return;
  fault.hint = names_hint(what, known);
  fault.lists_names = what == "profile" && !fault.hint.empty();
}

const Room* room_at(const Storey& storey, Point2 p) {
  const auto found =
      std::ranges::find_if(storey.rooms, [&](const Room& room) { return contains(room.corners, p); });
  return found == storey.rooms.end() ? nullptr : &*found;
}

const Room* find_room(const Storey& storey, std::string_view name) {
  const auto found = std::ranges::find(storey.rooms, name, &Room::name);
  return found == storey.rooms.end() ? nullptr : &*found;
}

std::vector<std::string> sides_of_walls(const Storey& storey) {
  auto names = names_of(storey.rooms);
  names.emplace_back(kOutside);
  return names;
}

namespace {

bool on_one_line(const Polygon2& corners) {
  if (corners.empty()) return true;
  const auto other = std::ranges::find_if(corners, [&](Point2 p) { return p != corners.front(); });
  return other == corners.end() ||
         std::ranges::all_of(corners, [&](Point2 p) { return side(corners.front(), *other, p) == 0; });
}

/// " (left)", as the short form says it; empty for a wall aslant.
std::string side_of_room(const Room& room, Segment2 wall) {
  constexpr double beside_m = 0.02;
  const Point2 middle = 0.5 * (wall.a + wall.b);
  if (wall.a.x == wall.b.x)
    return contains(room.corners, middle + Point2{beside_m, 0}) ? " (left)" : " (right)";
  if (wall.a.y == wall.b.y)
    return contains(room.corners, middle + Point2{0, beside_m}) ? " (below)" : " (above)";
  return {};
}

}  // namespace

std::string neighbours_text(const Room& room, const std::vector<WallPiece>& plan) {
  std::vector<std::string> beside;
  for (const WallPiece& piece : plan) {
    const bool of_room = piece.first == room.name || piece.second == room.name;
    const std::string& other = piece.first == room.name ? piece.second : piece.first;
    if (!of_room || other == kOutside) continue;
    const std::string text = quoted(other) + side_of_room(room, piece.line);
    if (std::ranges::find(beside, text) == beside.end()) beside.push_back(text);
  }
  return quoted(room.name) + " borders " + (beside.empty() ? "no other room" : joined(beside));
}

bool check_polygon(const Polygon2& corners, const std::string& path, const std::string& what,
                   Diagnostics& faults) {
  if (on_one_line(corners)) {
    add(faults, DiagnosticCode::impossible, path, what + " has no area: its corners lie on one line");
    return false;
  }
  if (const auto place = self_crossing(corners)) {
    add(faults, DiagnosticCode::impossible, path,
        what + " crosses or touches itself at " + place_text(*place),
        "list the corners in order round the outline");
    return false;
  }
  return true;
}

}  // namespace linkmargin::checks

namespace linkmargin {

Diagnostics validate(const Site& site) {
  Diagnostics faults;
  checks::check_environment(site, faults);
  checks::check_names(site, faults);
  checks::check_materials(site, faults);
  checks::check_calibration(site, faults);
  checks::check_profiles(site, faults);
  checks::check_storey_heights(site, faults);
  for (const Storey& storey : site.storeys) {
    const auto plan = wall_plan(storey);
    checks::check_storey(storey, plan, site.units.length, faults);
    checks::check_openings(storey, plan, site.units.length, faults);
  }
  checks::check_hubs(site, faults);
  checks::check_repeaters(site, faults);
  checks::check_places(site, faults);
  return faults;
}

}  // namespace linkmargin
