#include "linkmargin/site/mounting/hanging_spot.hpp"

#include "linkmargin/site/mounting/mounting_places.hpp"

#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;

TEST_CASE("a place on a wall is told by the wall and by what a tape shows from its corner") {
  Site site = fixture::two_rooms();
  const HangingSpot hangs = hanging_spot(site, {0, {0.08, 1.2}, 2});
  const auto* on = std::get_if<OnWall>(&hangs);
  REQUIRE(on != nullptr);
  CHECK(on->spot.wall == SheetSide::left);
  CHECK(on->spot.from == SheetSide::bottom);
  CHECK(on->spot.distance_m == doctest::Approx(1.2 - kUsualHalfWallM));
  site.storeys[0].outer_wall.thickness_m = 0.4;
  const HangingSpot in_stone = hanging_spot(site, {0, {0.23, 1.2}, 2});
  REQUIRE(std::holds_alternative<OnWall>(in_stone));
  CHECK(std::get<OnWall>(in_stone).spot.distance_m == doctest::Approx(1.0));
}

TEST_CASE("frames, ceilings and traced walls are told apart, and mid-air is told of as nothing") {
  Site site = fixture::two_rooms();
  site.storeys[0].openings = {fixture::door_between(2, 0.8, "leaf")};
  const auto hangs = [&](Point2 at, double height_m) { return hanging_spot(site, {0, at, height_m}); };
  REQUIRE(std::holds_alternative<OnFrame>(hangs({4.08, 1.55}, 1.9)));
  CHECK(std::get<OnFrame>(hangs({4.08, 1.55}, 1.9)).opening == "door");
  CHECK(std::holds_alternative<OnWall>(hangs({4.08, 1.3}, 1.9)));
  CHECK(std::holds_alternative<OnWall>(hangs({4.08, 2}, 2.3)));  // over the door
  REQUIRE(std::holds_alternative<OnCeiling>(hangs({1, 3}, 2.45)));
  const OnCeiling ceiling = std::get<OnCeiling>(hangs({1, 3}, 2.45));
  CHECK(ceiling.across == SheetSide::left);
  CHECK(ceiling.across_m == doctest::Approx(1));
  CHECK(ceiling.up == SheetSide::top);
  CHECK(ceiling.up_m == doctest::Approx(1));
  CHECK(std::holds_alternative<std::monostate>(hangs({2, 2}, 1)));
  CHECK(std::holds_alternative<std::monostate>(hangs({-3, 2}, 1)));
  site.storeys[0].walls = {
      {.name = "screen", .line = {{1, 1}, {3, 1}}, .construction = {"board", {}}, .height_m = 1.8}};
  REQUIRE(std::holds_alternative<OnTracedWall>(hangs({2, 1.08}, 1)));
  CHECK(std::get<OnTracedWall>(hangs({2, 1.08}, 1)).wall == "screen");
}

TEST_CASE("every place that is proposed on a wall is said to be on one, never on a frame") {
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    CAPTURE(seed);
    Site site = fixture::random_block(seed, 1, 3, 2);
    site.hubs[0].place.height_m = 0.3 + 0.3 * static_cast<double>(seed % 7);
    for (const Placement& place : MountingPlaces(site).find(mounting_request(site, site.hubs[0]), 0.5)) {
      const HangingSpot hangs = hanging_spot(site, place);
      CHECK((std::holds_alternative<OnWall>(hangs) || std::holds_alternative<OnTracedWall>(hangs)));
    }
  }
}
