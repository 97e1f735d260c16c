#include "linkmargin/base/units.hpp"
#include "linkmargin/geometry/near_boxes.hpp"
#include "linkmargin/site/site_radios.hpp"
#include "linkmargin/site/validation/checks.hpp"
#include "linkmargin/text/look_alike.hpp"
#include "linkmargin/text/name_flaw.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <optional>
#include <set>
#include <utility>

namespace linkmargin {
namespace {

using Warnings = std::vector<Warning>;

constexpr double kSideBySideM = 0.3;  // a gap that a wall's thickness explains
constexpr double kLongEnoughM = 0.3;  // of two walls beside each other
constexpr double kParallel = 0.05;    // sine of the angle between them: about 3 degrees
// Where the limits hold that the built-in profiles state, and some way about: common practice.
constexpr Range kBuiltInBandMhz{860, 880, "frequency_mhz", "devices near 868 MHz"};
constexpr double kFarM = 150;  // from every room: common practice, a slip of the decimal point more likely

bool exactly_on(Point2 p, Segment2 line) {
  return line.a != line.b && side(line.a, line.b, p) == 0 && std::min(line.a.x, line.b.x) <= p.x &&
         p.x <= std::max(line.a.x, line.b.x) && std::min(line.a.y, line.b.y) <= p.y &&
         p.y <= std::max(line.a.y, line.b.y);
}

/// The side that crosses() takes a point on the wall's line to be on.
Warning on_wall(const Storey& storey, const WallPiece& piece, Point2 p) {
  if (!piece.traced.empty()) {
    const bool upright = piece.line.a.x == piece.line.b.x;
    return {.code = upright ? WarningCode::on_upright_traced_wall : WarningCode::on_traced_wall};
  }
  const Room* room = checks::room_at(storey, p);
  if (room == nullptr) return {.code = WarningCode::on_wall_outside};
  return {.code = WarningCode::on_wall_in_room, .arguments = {{"room", Quoted{room->name}}}};
}

void say_on_wall(const Storey& storey, const std::vector<WallPiece>& plan, const SiteRadio& radio,
                 Warnings& warnings) {
  for (const WallPiece& piece : plan) {
    if (!piece.construction || !exactly_on(radio.place.at, piece.line)) continue;
    Warning warning = on_wall(storey, piece, radio.place.at);
    warning.arguments.push_back({"radio", Quoted{radio.name}});
    warning.arguments.push_back({"wall", wall_name(piece)});
    warning.radio = radio.name;
    warnings.push_back(std::move(warning));
    return;
  }
}

void say_in_obstacle(const Storey& storey, const SiteRadio& radio, Warnings& warnings) {
  for (const Obstacle& obstacle : storey.obstacles) {
    const double height_m = radio.place.height_m;
    if (height_m < obstacle.base_m || height_m >= obstacle.base_m + obstacle.height_m) continue;
    if (!contains(obstacle.corners, radio.place.at)) continue;
    warnings.push_back({.code = WarningCode::inside_obstacle,
                        .arguments = {{"radio", Quoted{radio.name}}, {"obstacle", Quoted{obstacle.name}}},
                        .radio = radio.name});
  }
}

/// @return whether it is
bool say_far_away(const Site& site, const SiteRadio& radio, Warnings& warnings) {
  double nearest_m = std::numeric_limits<double>::infinity();
  for (const Storey& storey : site.storeys) {
    for (const Room& room : storey.rooms) {
      const double away_m =
          contains(room.corners, radio.place.at) ? 0 : distance_to_edges(room.corners, radio.place.at);
      nearest_m = std::min(nearest_m, away_m);
      if (nearest_m <= kFarM) return false;
    }
  }
  if (std::isinf(nearest_m)) return false;  // a site without rooms
  warnings.push_back({.code = WarningCode::far_from_rooms,
                      .arguments = {{"radio", Quoted{radio.name}}, {"distance", LengthFigure{nearest_m, 0}}},
                      .radio = radio.name});
  return true;
}

/// A radio in no room with walls nearly all round it: a corridor that nobody drew, more likely than a yard.
/// @return whether it is
bool say_between_rooms(const Storey& storey, const std::vector<WallPiece>& plan, const SiteRadio& radio,
                       Warnings& warnings) {
  constexpr int kDirections = 12, kEnough = 10;
  constexpr double kSightM = 100;
  const Point2 at = snapped(radio.place.at);
  const auto holds = [&](const Room& room) { return contains(room.corners, at); };
  if (storey.rooms.empty() || std::ranges::any_of(storey.rooms, holds)) return false;
  int met = 0;
  for (int i = 0; i < kDirections; ++i) {
    const double angle = 2 * kPi * (i + 0.37) / kDirections;  // off the directions in which walls are drawn
    const Segment2 ray{at, snapped(at + kSightM * Point2{std::cos(angle), std::sin(angle)})};
    met += std::ranges::any_of(
        plan, [&](const WallPiece& piece) { return piece.construction && crosses(ray, piece.line); });
  }
  if (met < kEnough) return false;
  warnings.push_back(
      {.code = WarningCode::in_no_room, .arguments = {{"radio", Quoted{radio.name}}}, .radio = radio.name});
  return true;
}

/// Holes where nothing says what they are in.
void say_no_slab(const Storey& storey, Warnings& warnings) {
  if (storey.floor && storey.floor->material != kNoMaterial) return;
  for (const FloorOpening& opening : storey.floor_openings) {
    warnings.push_back({.code = WarningCode::opening_without_floor,
                        .arguments = {{"opening", Quoted{opening.name}}, {"storey", Quoted{storey.name}}},
                        .storeys = {storey.name}});
  }
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
void say_side_by_side(const Storey& storey, const std::vector<WallPiece>& plan, Warnings& warnings) {
  std::vector<const WallPiece*> outer;
  std::vector<Box2> boxes;
  for (const WallPiece& piece : plan) {
    if (!piece.traced.empty() || piece.second != kOutside || !piece.construction) continue;
    outer.push_back(&piece);
    boxes.push_back(bounding_box(piece.line));
  }
  std::set<std::pair<std::string, std::string>> said;
  for_near_boxes(boxes, kSideBySideM, [&](std::size_t i, std::size_t j) {
    if (outer[i]->first == outer[j]->first) return true;
    const Beside found = beside(outer[i]->line, outer[j]->line);
    if (found.length_m < kLongEnoughM || found.apart_m > kSideBySideM) return true;
    if (!said.emplace(outer[i]->first, outer[j]->first).second) return true;
    warnings.push_back({.code = WarningCode::walls_side_by_side,
                        .arguments = {{"first", Quoted{outer[i]->first}},
                                      {"second", Quoted{outer[j]->first}},
                                      {"apart", LengthFigure{found.apart_m, 2}},
                                      {"length", LengthFigure{found.length_m, 2}}},
                        .storeys = {storey.name}});
    return said.size() < checks::kMostOfAKind;
  });
}

/// The letters in which two names differ, where one of them is no ASCII: "U+0061" and "U+0430".
std::optional<std::pair<std::string, std::string>> differing_letters(std::string_view first,
                                                                     std::string_view second) {
  const auto [left, right] = std::ranges::mismatch(first, second);
  const auto letter_at = [](std::string_view name, std::size_t position) {
    while (position > 0 && position < name.size() &&
           (static_cast<unsigned char>(name[position]) & 0xC0U) == 0x80U)
      --position;
    return first_letter(name.substr(std::min(position, name.size())));
  };
  const char32_t a = letter_at(first, static_cast<std::size_t>(left - first.begin()));
  const char32_t b = letter_at(second, static_cast<std::size_t>(right - second.begin()));
  if (a < 0x80 && b < 0x80) return std::nullopt;
  return std::pair(code_text(a), code_text(b));
}

/// Names that the eye takes for the same, in a list and on a plan.
void say_look_alikes(const Site& site, Warnings& warnings) {
  std::vector<std::string_view> names;
  for (const SiteRadio& radio : site_radios(site)) names.push_back(radio.name);
  for (const Area& area : site.areas) names.push_back(area.name);
  std::map<std::string, std::string_view> seen;
  for (const std::string_view name : names) {
    const auto [before, fresh] = seen.emplace(look_of(name), name);
    if (fresh || before->second == name) continue;
    if (warnings.size() >= checks::kMostOfAKind) return;
    Warning warning{
        .code = WarningCode::look_alike,
        .arguments = {{"first", Quoted{std::string(before->second)}}, {"second", Quoted{std::string(name)}}},
        .radio = std::string(name)};
    if (auto letters = differing_letters(before->second, name)) {
      warning.code = WarningCode::look_alike_letters;
      warning.arguments.push_back({"first_letter", std::move(letters->first)});
      warning.arguments.push_back({"second_letter", std::move(letters->second)});
    }
    warnings.push_back(std::move(warning));
  }
}

/// The built-in profiles that radios of the site use, in the order of their names.
std::vector<std::string> built_in_profiles(const Site& site) {
  std::set<std::string> used;
  const auto note = [&](const std::string& name) {
    const auto profile = site.profiles.find(name);
    if (profile != site.profiles.end() && profile->second.built_in) used.insert(name);
  };
  for (const SiteRadio& radio : site_radios(site)) note(radio.profile);
  for (const Area& area : site.areas) note(area.profile);
  return {used.begin(), used.end()};
}

/// What the built-in profiles assume, where nothing else is said of them already.
void say_assumed(const Site& site, Warnings& warnings) {
  const double sigma_db = radio_with_equipment(site).equipment_sigma_db;
  const std::vector<std::string> names = built_in_profiles(site);
  if (names.empty() || sigma_db == 0 || !kBuiltInBandMhz.contains(mhz_from_hz(site.radio.frequency_hz)))
    return;
  warnings.push_back({.code = WarningCode::assumed_profiles,
                      .arguments = {{"sigma", Figure{sigma_db}}, {"profiles", NameList{names}}}});
}

void say_other_band(const Site& site, Warnings& warnings) {
  const double frequency_mhz = mhz_from_hz(site.radio.frequency_hz);
  if (kBuiltInBandMhz.contains(frequency_mhz)) return;
  const std::vector<std::string> names = built_in_profiles(site);
  if (names.empty()) return;
  warnings.push_back({.code = WarningCode::profiles_of_other_band,
                      .arguments = {{"frequency", Figure{frequency_mhz}}, {"profiles", NameList{names}}}});
}

void say_learned_of_no_radio(const Site& site, Warnings& warnings) {
  if (!site.calibration) return;
  std::set<std::string_view> names;
  for (const SiteRadio& radio : site_radios(site)) names.insert(radio.name);
  for (const auto& [name, learned] : site.calibration->radios) {
    if (!names.contains(name))
      warnings.push_back({.code = WarningCode::learned_of_no_radio, .arguments = {{"radio", Quoted{name}}}});
  }
}

/// A percentage under which nothing alarms anybody: of a slip of the decimal point what was meant.
void say_low_threshold(const ReadingScale& reading, Warnings& warnings) {
  constexpr double kLowestUsualPercent = 10;  // common practice
  const double percent = reading.weak_below_percent;
  if (percent >= kLowestUsualPercent) return;
  if (percent <= 0) return warnings.push_back({.code = WarningCode::threshold_none});
  const double meant = percent < 1 ? 100 * percent : 10 * percent;
  warnings.push_back({.code = WarningCode::threshold_low,
                      .arguments = {{"threshold", Figure{percent}}, {"meant", Figure{meant, 0}}}});
}

void say_model(const PropagationSettings& radio, Warnings& warnings) {
  const bool uses_exponent =
      radio.model == PathLossModel::log_distance || radio.model == PathLossModel::walls;
  if (radio.exponent && !uses_exponent) {
    warnings.push_back({.code = WarningCode::exponent_unused});
  }
  const bool spreads_freely =
      radio.model != PathLossModel::log_distance && radio.model != PathLossModel::site_general;
  if (radio.ground_reflection && !spreads_freely) {
    warnings.push_back({.code = WarningCode::ground_reflection_unused});
  }
}

}  // namespace

std::vector<Warning> site_warnings(const Site& site) {
  Warnings warnings;
  say_model(site.radio, warnings);
  say_other_band(site, warnings);
  say_low_threshold(site.reading, warnings);
  checks::say_odd_sizes(site, warnings);
  checks::say_storey_slips(site, warnings);
  checks::say_closed_sizes(site, warnings);
  checks::say_open_rooms(site, warnings);
  checks::say_roofs_beside_rooms(site, warnings);
  checks::say_layers_alone(site, warnings);
  say_look_alikes(site, warnings);
  say_learned_of_no_radio(site, warnings);
  std::vector<std::vector<WallPiece>> plans;
  for (const Storey& storey : site.storeys) {
    say_side_by_side(storey, plans.emplace_back(wall_plan(storey)), warnings);
    say_no_slab(storey, warnings);
    checks::say_apart_like_house(site, storey, plans.back(), warnings);
  }
  for (const SiteRadio& radio : site_radios(site)) {
    const Storey& storey = site.storeys[radio.place.storey];
    say_on_wall(storey, plans[radio.place.storey], radio, warnings);
    say_in_obstacle(storey, radio, warnings);
    const bool far = say_far_away(site, radio, warnings);
    const bool between = say_between_rooms(storey, plans[radio.place.storey], radio, warnings);
    if (!far && !between) checks::say_astray(site, plans[radio.place.storey], radio, warnings);
    checks::say_odd_place(site, plans[radio.place.storey], radio, warnings);
  }
  return warnings;
}

std::vector<Warning> all_site_warnings(const Site& site) {
  Warnings warnings = site_warnings(site);
  checks::say_over_limits(site, warnings);
  say_assumed(site, warnings);
  return warnings;
}

}  // namespace linkmargin
