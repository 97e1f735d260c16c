#include "linkmargin/site/storey_extent.hpp"

#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;

TEST_CASE("the extent of a storey holds all that is on it, and nothing of another") {
  Site site = fixture::two_rooms();  // rooms from (0, 0) to (8, 4)
  site.storeys.push_back(fixture::storey("upper", 2.75, 2.5));
  CHECK(storey_extent(site, 1).empty());
  CHECK(storey_extent(site, 0).min == Point2{0, 0});
  CHECK(storey_extent(site, 0).max == Point2{8, 4});
  site.devices.front().place.at = {9, -1};
  site.storeys[0].walls.resize(1);
  site.storeys[0].walls[0].line = {{-2, 1}, {0, 6}};
  CHECK(storey_extent(site, 0).min == Point2{-2, -1});
  CHECK(storey_extent(site, 0).max == Point2{9, 6});
  site.repeaters.resize(1);
  site.repeaters.front().place = {1, {3, 2}, 1};
  Area drive;
  drive.storey = 1;
  drive.corners = rectangle({1, 1}, 1, 2);
  site.areas = {drive};
  CHECK(storey_extent(site, 1).min == Point2{1, 1});
  CHECK(storey_extent(site, 1).max == Point2{3, 3});
}
