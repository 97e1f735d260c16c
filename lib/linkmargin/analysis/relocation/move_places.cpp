#include "linkmargin/analysis/relocation/move_places.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

/// Nearer than this to where it hangs is no move.
constexpr double kNoMoveM = 0.01;

}  // namespace

std::vector<Placement> move_places(const MountingPlaces& mounting, const MountingRequest& request,
                                   double step_m) {
  if (!request.may_move) return {};
  const auto moved_m = [&](const Placement& place) {
    return std::hypot(distance(place.at, request.place.at), place.height_m - request.place.height_m);
  };
  std::vector<Placement> places = mounting.find(request, step_m);
  std::erase_if(places, [&](const Placement& place) { return moved_m(place) < kNoMoveM; });
  std::ranges::stable_sort(places, {}, moved_m);
  return thinned(places, kMostMovePlaces);
}

}  // namespace linkmargin
