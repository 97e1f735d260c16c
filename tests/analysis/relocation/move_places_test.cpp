#include "linkmargin/analysis/relocation/move_places.hpp"

#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace linkmargin;

namespace {

std::vector<Placement> places_of(const Site& site, const std::optional<Mobility>& may_move, double step_m) {
  MountingRequest request = mounting_request(site, site.devices[0]);
  request.may_move = may_move;
  return move_places(MountingPlaces(site), request, step_m);
}

}  // namespace

TEST_CASE("a radio that stays has no places") {
  const Site site = fixture::two_rooms();
  CHECK(places_of(site, {}, 0.1).empty());
  CHECK(places_of(site, Mobility{Mobility::Radius{0}}, 0.1).empty());
}

TEST_CASE("places come by distance, the radio's own left out, and not too many") {
  const Site site = fixture::two_rooms();
  const Point2 from = site.devices[0].place.at;
  const auto along = places_of(site, Mobility{Mobility::Along{{{5, 1}, {7, 1}, {7, 3}}}}, 0.25);
  CHECK(along.size() == 16);  // 17, less its own
  const auto room = places_of(site, Mobility{Mobility::WithinRoom{"right"}}, 0.01);
  CHECK(room.size() <= kMostMovePlaces);
  CHECK(room.size() > kMostMovePlaces / 2);
  for (const auto& places : {along, room}) {
    CHECK(
        std::ranges::is_sorted(places, {}, [&](const Placement& place) { return distance(place.at, from); }));
    for (const Placement& place : places) CHECK(place != site.devices[0].place);
  }
}
