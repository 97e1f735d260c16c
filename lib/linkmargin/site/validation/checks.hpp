#pragma once

#include "linkmargin/base/length_unit.hpp"
#include "linkmargin/site/site.hpp"
#include "linkmargin/site/site_radios.hpp"
#include "linkmargin/site/wall_plan.hpp"

#include <concepts>
#include <initializer_list>
#include <string>
#include <string_view>
#include <vector>

/// The parts of validate(), one source a subject. Not installed.
namespace linkmargin::checks {

/// Lengths that differ by less are taken as equal when a fault hangs on them.
inline constexpr double kSlackM = 0.001;

/// How far a radio may stand from the line, room or corners within which it says that it may move.
inline constexpr double kReachSlackM = 0.5;

/// How far over the highest ceiling a radio outside the rooms may stand: a mast or a gable. Common practice.
inline constexpr double kAboveRoofM = 10;

/// Faults of one kind in one storey that are listed; a file that overlaps itself everywhere says it often
/// enough.
inline constexpr std::size_t kMostOfAKind = 100;

/// Faults with a hint that takes a search through names: no file shows more of them.
inline constexpr std::size_t kMostHints = 200;

/// "/storeys/ground/level_m" from its tokens, each escaped.
std::string pointer(std::initializer_list<std::string_view> tokens);
std::string quoted(std::string_view name);
std::string place_text(Point2 p);  // "(1.5, 2)"

/// @return the fault as it stands in the list, until the next is added
Diagnostic& add(Diagnostics& faults, DiagnosticCode code, std::string path, std::string message,
                std::string hint = {});

/// Adds "unknown WHAT 'NAME'" with the nearest known name or, for a profile or material, where the names are
/// found.
void add_unknown(Diagnostics& faults, std::string path, std::string_view what, std::string_view name,
                 const std::vector<std::string>& known);

/// The same; known() makes the list of names where it is looked at.
template <std::invocable Known>
void add_unknown(Diagnostics& faults, std::string path, std::string_view what, std::string_view name,
                 Known known) {
  add_unknown(faults, std::move(path), what, name,
              faults.size() < kMostHints ? known() : std::vector<std::string>());
}

template <typename Table>
std::vector<std::string> keys(const Table& table) {
  std::vector<std::string> names;
  for (const auto& [name, value] : table) names.push_back(name);
  return names;
}

template <typename Items>
std::vector<std::string> names_of(const Items& items) {
  std::vector<std::string> names;
  for (const auto& item : items) names.push_back(item.name);
  return names;
}

/// The room that holds a point of the plan, or nothing.
const Room* room_at(const Storey& storey, Point2 p);
const Room* find_room(const Storey& storey, std::string_view name);

/// What may stand on a side of a wall: the rooms, and 'outside'.
std::vector<std::string> sides_of_walls(const Storey& storey);

/// @return whether the polygon is simple and has an area; adds a fault otherwise
bool check_polygon(const Polygon2& corners, const std::string& path, const std::string& what,
                   Diagnostics& faults);

/// Whether a radio whose storey exists hangs between the floor and the ceiling of its room or, outside the
/// rooms, at the height of some storey or little over the highest.
void check_height(const Site& site, const SiteRadio& radio, Diagnostics& faults);

void check_names(const Site& site, Diagnostics& faults);
void check_materials(const Site& site, Diagnostics& faults);
void check_calibration(const Site& site, Diagnostics& faults);
void check_environment(const Site& site, Diagnostics& faults);
void check_storey_heights(const Site& site, Diagnostics& faults);
void check_storey(const Storey& storey, const std::vector<WallPiece>& plan, LengthUnit unit,
                  Diagnostics& faults);
void check_openings(const Storey& storey, const std::vector<WallPiece>& plan, LengthUnit unit,
                    Diagnostics& faults);

/// How far two rooms that share no wall are from each other: "'hall' and 'shop' are 1.20 m apart".
std::string apart_text(const Room& first, const Room& second, LengthUnit unit);

/// "'hall' borders 'shop' (left) and 'kitchen' (above)", or that it borders no other room.
std::string neighbours_text(const Room& room, const std::vector<WallPiece>& plan);
void check_profiles(const Site& site, Diagnostics& faults);
void check_hubs(const Site& site, Diagnostics& faults);
void check_repeaters(const Site& site, Diagnostics& faults);
void check_places(const Site& site, Diagnostics& faults);

/// Storeys that do not fit each other, or lack a slab between: a part of site_warnings().
void say_storey_slips(const Site& site, std::vector<Warning>& warnings);

/// Sizes of rooms that were changed so that the plan closes: another part.
void say_closed_sizes(const Site& site, std::vector<Warning>& warnings);

/// Rooms with nothing over them where others have something: another part.
void say_open_rooms(const Site& site, std::vector<Warning>& warnings);

/// Rooms that a storey above covers in part, or not, where it could be a slip: another part.
void say_roofs_beside_rooms(const Site& site, std::vector<Warning>& warnings);

/// Rooms that share no wall with the house, and yet have its floor and roof: another part.
void say_apart_like_house(const Site& site, const Storey& storey, const std::vector<WallPiece>& plan,
                          std::vector<Warning>& warnings);

/// A radio that belongs in a room by its kind, and stands in none and on no outside of a wall: another part.
void say_astray(const Site& site, const std::vector<WallPiece>& plan, const SiteRadio& radio,
                std::vector<Warning>& warnings);

/// A radio where such a one does not hang: a ceiling's detector far under it, across a door or window, a
/// contact that may leave its frame: another part.
void say_odd_place(const Site& site, const std::vector<WallPiece>& plan, const SiteRadio& radio,
                   std::vector<Warning>& warnings);

/// Sizes that a slip of the unit or of the decimal point makes: storeys, rooms, gaps, walls: another part.
void say_odd_sizes(const Site& site, std::vector<Warning>& warnings);

/// Materials that the table has as layers alone where a whole wall or thing stands: another part.
void say_layers_alone(const Site& site, std::vector<Warning>& warnings);

/// Profiles that radiate more than the region allows at the site's frequency: a part of all_site_warnings().
void say_over_limits(const Site& site, std::vector<Warning>& warnings);

}  // namespace linkmargin::checks
