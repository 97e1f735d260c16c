#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

namespace linkmargin::checks {
namespace {

// Common practice, all of them.
constexpr double kHalfWallM = 0.05;        // where its thickness is not stated
constexpr double kBesideWallM = 0.3;       // a housing on its board, and what a sheet of paper is off
constexpr double kFarUnderCeilingM = 0.6;  // smoke and heat rise to the ceiling and spread under it
constexpr double kClearlyBeforeM = 0.02;   // of an opening, not of its frame
constexpr double kNotBeforeM = 3;          // over its width: looks no further, most are
constexpr double kFrameLengthM = 2;        // along the frame of a wide door
constexpr std::array<std::string_view, 14> kIndoorKinds{
    "hub",  "repeater",        "motion",     "glass break",    "flood", "temperature", "smoke",
    "heat", "carbon monoxide", "call point", "hold-up button", "siren", "keypad",      "relay"};

const Profile* profile_of(const Site& site, const SiteRadio& radio) {
  const auto found = site.profiles.find(radio.profile);
  return found == site.profiles.end() ? nullptr : &found->second;
}

bool is_indoor_kind(const Profile& profile) {
  return profile.mounted_on == MountingSurface::ceiling ||
         std::ranges::find(kIndoorKinds, profile.name) != kIndoorKinds.end();
}

double half_wall_m(const WallPiece& piece) {
  return piece.construction->thickness_m ? *piece.construction->thickness_m / 2 : kHalfWallM;
}

double nearest_room_m(const Storey& storey, Point2 at) {
  double nearest_m = std::numeric_limits<double>::infinity();
  for (const Room& room : storey.rooms) nearest_m = std::min(nearest_m, distance_to_edges(room.corners, at));
  return nearest_m;
}

void say_far_below_ceiling(const Storey& storey, const Profile& profile, const SiteRadio& radio,
                           std::vector<Warning>& warnings) {
  const Room* room = room_at(storey, radio.place.at);
  const double under_m = storey.height_m - radio.place.height_m;
  if (profile.mounted_on != MountingSurface::ceiling || room == nullptr ||
      under_m <= kFarUnderCeilingM + kSlackM)
    return;
  warnings.push_back({.code = WarningCode::far_below_ceiling,
                      .arguments = {{"radio", Quoted{radio.name}},
                                    {"distance", LengthFigure{under_m, 2}},
                                    {"room", Quoted{room->name}}},
                      .radio = radio.name});
}

/// A wall-mounted radio across a door or a window.
void say_across_opening(const Storey& storey, const std::vector<WallPiece>& plan, const Profile& profile,
                        const SiteRadio& radio, std::vector<Warning>& warnings) {
  if (profile.mounted_on != MountingSurface::wall) return;
  for (std::size_t i = 0; i < storey.openings.size(); ++i) {
    const Opening& opening = storey.openings[i];
    const double height_m = radio.place.height_m;
    if (distance(radio.place.at, opening.at) > opening.width_m + kNotBeforeM ||
        height_m < opening.sill_m + kClearlyBeforeM ||
        height_m > opening.sill_m + opening.height_m - kClearlyBeforeM)
      continue;
    const auto place = locate_opening(plan, storey, i);
    if (!place) continue;
    const WallPiece& piece = plan[place->piece];
    const Point2 from = at_fraction(piece.line, place->from);
    const Point2 to = at_fraction(piece.line, place->to);
    const double width_m = distance(from, to);
    const Point2 along = (1 / width_m) * (to - from);
    const double on_m = dot(radio.place.at - from, along);
    const double off_m = std::abs(cross(along, radio.place.at - from));
    const double half_m = piece.construction ? half_wall_m(piece) : 0;
    if (on_m < kClearlyBeforeM || on_m > width_m - kClearlyBeforeM || off_m > half_m + kBesideWallM) continue;
    warnings.push_back({.code = WarningCode::across_opening,
                        .arguments = {{"radio", Quoted{radio.name}}, {"opening", Quoted{opening.name}}},
                        .radio = radio.name});
    return;
  }
}

void say_moves_off_frame(const Profile& profile, const SiteRadio& radio, std::vector<Warning>& warnings) {
  if (profile.mounted_on != MountingSurface::frame || !radio.may_move) return;
  const auto* radius = std::get_if<Mobility::Radius>(&radio.may_move->reach);
  if (radius == nullptr || radius->radius_m <= kFrameLengthM) return;
  warnings.push_back(
      {.code = WarningCode::moves_off_frame,
       .arguments = {{"radio", Quoted{radio.name}}, {"radius", LengthFigure{radius->radius_m}}},
       .radio = radio.name});
}

}  // namespace

void say_astray(const Site& site, const std::vector<WallPiece>& plan, const SiteRadio& radio,
                std::vector<Warning>& warnings) {
  const Storey& storey = site.storeys[radio.place.storey];
  const Profile* profile = profile_of(site, radio);
  if (profile == nullptr || storey.rooms.empty() || !is_indoor_kind(*profile) ||
      room_at(storey, radio.place.at) != nullptr || warnings.size() >= kMostOfAKind)
    return;
  const bool on_wall = std::ranges::any_of(plan, [&](const WallPiece& piece) {
    return piece.construction &&
           distance_to_segment(radio.place.at, piece.line) <= half_wall_m(piece) + kBesideWallM;
  });
  if (on_wall) return;
  const double away_m = nearest_room_m(storey, radio.place.at);
  warnings.push_back({.code = WarningCode::indoors_outside,
                      .arguments = {{"radio", Quoted{radio.name}},
                                    {"storey", Quoted{storey.name}},
                                    {"distance", LengthFigure{away_m, away_m < 10 ? 1 : 0}}},
                      .radio = radio.name});
}

void say_odd_place(const Site& site, const std::vector<WallPiece>& plan, const SiteRadio& radio,
                   std::vector<Warning>& warnings) {
  const Profile* profile = profile_of(site, radio);
  if (profile == nullptr || warnings.size() >= kMostOfAKind) return;
  const Storey& storey = site.storeys[radio.place.storey];
  say_far_below_ceiling(storey, *profile, radio, warnings);
  say_across_opening(storey, plan, *profile, radio, warnings);
  say_moves_off_frame(*profile, radio, warnings);
}

}  // namespace linkmargin::checks
