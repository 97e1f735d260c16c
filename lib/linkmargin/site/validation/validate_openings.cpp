#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace linkmargin::checks {
namespace {

std::string wall_text(const WallPiece& piece) {
  if (!piece.traced.empty()) return "the traced wall " + quoted(piece.traced);
  return "the wall between " + quoted(piece.first) + " and " + quoted(piece.second);
}

/// The names that wall_text() tells.
std::vector<std::string> wall_names(const WallPiece& piece) {
  return piece.traced.empty() ? std::vector{piece.first, piece.second} : std::vector{piece.traced};
}

std::vector<std::string> with(std::vector<std::string> names, const std::string& name) {
  names.push_back(name);
  return names;
}

std::string wanted_wall_text(const Opening& opening) {
  if (!opening.wall.empty()) return "the traced wall " + quoted(opening.wall);
  return "a wall between " + quoted(opening.first) + " and " + quoted(opening.second);
}

bool of_wanted_wall(const WallPiece& piece, const Opening& opening) {
  if (!opening.wall.empty() || !piece.traced.empty()) return piece.traced == opening.wall;
  return std::minmax(piece.first, piece.second) == std::minmax(opening.first, opening.second);
}

/// Whether the names that say which wall it is in are known; adds a fault for each that is not.
bool known_wall(const Storey& storey, const Opening& opening, const std::string& path, Diagnostics& faults) {
  if (!opening.wall.empty()) {
    if (std::ranges::find(storey.walls, opening.wall, &TracedWall::name) != storey.walls.end()) return true;
    add_unknown(faults, path + "/wall", "wall", opening.wall, [&] { return names_of(storey.walls); });
    return false;
  }
  bool sound = true;
  int position = 0;
  for (const std::string* name : {&opening.first, &opening.second}) {
    const std::string token = "/between/" + std::to_string(position++);
    if (*name == kOutside || find_room(storey, *name) != nullptr) continue;
    add_unknown(faults, path + token, "room", *name, [&] { return sides_of_walls(storey); });
    sound = false;
  }
  if (sound && opening.first == opening.second) {
    add(faults, DiagnosticCode::impossible, path + "/between",
        "a wall parts two rooms: " + quoted(opening.first) + " stands there twice");
    sound = false;
  }
  return sound;
}

/// The piece nearest to a point, of those that fit.
template <typename Fits>
const WallPiece* nearest_piece(const std::vector<WallPiece>& plan, Point2 at, Fits fits) {
  const WallPiece* nearest = nullptr;
  for (const WallPiece& piece : plan) {
    if (!fits(piece)) continue;
    if (nearest == nullptr || distance_to_segment(at, piece.line) < distance_to_segment(at, nearest->line)) {
      nearest = &piece;
    }
  }
  return nearest;
}

/// By how much an opening sticks out of the nearer end of a wall.
double overhang_m(const Opening& opening, Segment2 wall) {
  const double length_m = length(wall);
  if (length_m == 0) return opening.width_m;
  const double middle_m = dot(opening.at - wall.a, wall.b - wall.a) / length_m;
  return std::max(opening.width_m / 2 - middle_m, middle_m + opening.width_m / 2 - length_m);
}

void say_why_not_placed(const std::vector<WallPiece>& plan, const Storey& storey, const Opening& opening,
                        const std::string& path, LengthUnit unit, Diagnostics& faults) {
  const std::string name = "opening " + quoted(opening.name);
  const WallPiece* own =
      nearest_piece(plan, opening.at, [&](const WallPiece& piece) { return of_wanted_wall(piece, opening); });
  const WallPiece* any = nearest_piece(plan, opening.at, [](const WallPiece&) { return true; });
  const double own_m = own != nullptr ? distance_to_segment(opening.at, own->line) : 0;
  if (own != nullptr && own_m <= kOpeningReachM) {
    const double length_m = length(own->line);
    add(faults, DiagnosticCode::misplaced, path + (opening.width_m > length_m ? "/width_m" : "/at_m"),
        name + " overhangs " + wall_text(*own) + " by " + length_text(overhang_m(opening, own->line), unit),
        "that wall is " + length_text(length_m, unit) + " long, from " + place_text(own->line.a) + " to " +
            place_text(own->line.b) +
            (opening.width_m > length_m ? ": give a width_m that fits"
                                        : "; without at_m it is in the middle"))
        .names = with(wall_names(*own), opening.name);
    return;
  }
  std::string message = name + " lies on no wall";
  if (own != nullptr) {
    message = name + " does not lie on " + wanted_wall_text(opening) + ": " + length_text(own_m, unit) +
              " away from it";
  } else if (opening.wall.empty()) {
    message = name + " has no wall: none stands between " + quoted(opening.first) + " and " +
              quoted(opening.second);
  }
  std::string hint;
  const Room* first = find_room(storey, opening.first);
  if (own == nullptr && opening.wall.empty() && first != nullptr) {
    hint = neighbours_text(*first, plan);
    const Room* second = find_room(storey, opening.second);
    if (second != nullptr)
      hint = apart_text(*first, *second, unit) + "; " + hint + "; " + neighbours_text(*second, plan);
  } else if (any != nullptr && any != own) {
    hint = "the nearest wall, " + length_text(distance_to_segment(opening.at, any->line), unit) +
           " away, is " + wall_text(*any);
  }
  add(faults, DiagnosticCode::misplaced, path + "/at_m", message, hint).names = {
      opening.name, opening.wall, opening.first, opening.second};
}

struct Placed {
  const Opening* opening;
  OpeningPlace place;
  Segment2 wall;
};

/// By how much two openings overlap along their wall; 0 where they do not, or one is over the other.
double overlap_m(const Placed& left, const Placed& right) {
  const double shared_m =
      (std::min(left.place.to, right.place.to) - std::max(left.place.from, right.place.from)) *
      length(left.wall);
  const Opening& a = *left.opening;
  const Opening& b = *right.opening;
  const double shared_height_m =
      std::min(a.sill_m + a.height_m, b.sill_m + b.height_m) - std::max(a.sill_m, b.sill_m);
  return shared_m > kSlackM && shared_height_m > kSlackM ? shared_m : 0;
}

/// The keys that say where an opening is in a wall.
std::string place_hint(Segment2 wall) {
  const Point2 run = wall.b - wall.a;
  const bool upright = std::abs(run.y) > std::abs(run.x);
  return std::string(upright ? "from_bottom_m, from_top_m" : "from_left_m, from_right_m") +
         " or at_m says where one is; without, it is in the middle of the wall";
}

void check_overlaps(const std::vector<Placed>& on_wall, const std::string& list, LengthUnit unit,
                    Diagnostics& faults) {
  for (std::size_t j = 1; j < on_wall.size(); ++j) {
    for (std::size_t i = 0; i < j; ++i) {
      const double shared_m = overlap_m(on_wall[i], on_wall[j]);
      if (shared_m == 0) continue;
      add(faults, DiagnosticCode::overlaps, list + pointer({on_wall[j].opening->name, "at_m"}),
          "openings " + quoted(on_wall[i].opening->name) + " and " + quoted(on_wall[j].opening->name) +
              " overlap by " + length_text(shared_m, unit),
          place_hint(on_wall[j].wall))
          .names = {on_wall[i].opening->name, on_wall[j].opening->name};
      break;
    }
  }
}

}  // namespace

void check_openings(const Storey& storey, const std::vector<WallPiece>& plan, LengthUnit unit,
                    Diagnostics& faults) {
  const std::string list = pointer({"storeys", storey.name, "openings"});
  std::map<std::size_t, std::vector<Placed>> by_piece;
  for (std::size_t i = 0; i < storey.openings.size(); ++i) {
    const Opening& opening = storey.openings[i];
    const std::string path = list + pointer({opening.name});
    if (!known_wall(storey, opening, path, faults)) continue;
    const auto place = locate_opening(plan, storey, i);
    if (!place) {
      say_why_not_placed(plan, storey, opening, path, unit, faults);
      continue;
    }
    const WallPiece& piece = plan[place->piece];
    by_piece[place->piece].push_back({&opening, *place, piece.line});
    if (opening.sill_m + opening.height_m > piece.height_m + kSlackM) {
      add(faults, DiagnosticCode::misplaced, path + "/height_m",
          "opening " + quoted(opening.name) + " reaches " +
              length_text(opening.sill_m + opening.height_m, unit) + ", over " + wall_text(piece) + " of " +
              length_text(piece.height_m, unit))
          .names = with(wall_names(piece), opening.name);
    }
  }
  for (const auto& [piece, on_wall] : by_piece) check_overlaps(on_wall, list, unit, faults);
}

}  // namespace linkmargin::checks
