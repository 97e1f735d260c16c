#include "linkmargin/analysis/relocation/move_places.hpp"

#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace linkmargin;

namespace {

bool sorted_by_distance(const std::vector<Point2>& places, Point2 from) {
  return std::ranges::is_sorted(places, {}, [&](Point2 at) { return distance(at, from); });
}

}  // namespace

TEST_CASE("a radio that stays has no places") {
  const Site site = fixture::two_rooms();
  const Scene scene(site, Doors::armed);
  CHECK(move_places(scene, site, site.devices[0].place, {}, 0.1).empty());
  CHECK(move_places(scene, site, site.devices[0].place, Mobility{Mobility::Radius{0}}, 0.1).empty());
}

TEST_CASE("a disc is kept on its side of the walls and clear of them") {
  Site site = fixture::two_rooms();  // rooms of 4 x 4 m, the wall between at x = 4
  const Scene scene(site, Doors::armed);
  Placement place = site.devices[0].place;
  for (const double x : {4.05, 4.5, 6.0}) {
    place.at = snapped({x, 2});
    const auto places = move_places(scene, site, place, Mobility{Mobility::Radius{1}}, 0.1);
    CHECK(places.size() > 100);
    CHECK(sorted_by_distance(places, place.at));
    for (const Point2 at : places) {
      CHECK(distance(at, place.at) <= 1 + 1e-6);
      CHECK(at.x >= 4 + std::min(x - 4, kWallClearanceM) - 1e-3);
    }
  }
}

TEST_CASE("places along a line lie on it, in a room in it") {
  const Site site = fixture::two_rooms();
  const Scene scene(site, Doors::armed);
  const Placement place = site.devices[0].place;
  const auto along =
      move_places(scene, site, place, Mobility{Mobility::Along{{{5, 1}, {7, 1}, {7, 3}}}}, 0.25);
  CHECK(along.size() == 16);  // 17, less its own
  CHECK(sorted_by_distance(along, place.at));
  for (const Point2 at : along) CHECK((at.y == 1 || at.x == 7));
  const auto room = move_places(scene, site, place, Mobility{Mobility::WithinRoom{"right"}}, 0.5);
  CHECK(room.size() == 48);  // 7 x 7 on half metres through (7, 2), less its own place
  for (const Point2 at : room) CHECK((at.x >= 4.1 && at.x <= 7.9 && at.y >= 0.1 && at.y <= 3.9));
  CHECK(move_places(scene, site, place, Mobility{Mobility::Within{rectangle({0, 0}, 4, 4)}}, 0.01).size() <=
        kMostMovePlaces + 50);
}
