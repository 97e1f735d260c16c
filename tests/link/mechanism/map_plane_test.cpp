#include "linkmargin/link/mechanism/map_plane.hpp"

#include "linkmargin/link/mechanism/detour_graph.hpp"
#include "linkmargin/link/path_loss.hpp"

#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <memory>

using namespace linkmargin;

namespace {

constexpr Box2 kBlock{{0, 0}, {24, 20}};
constexpr double kPlaneHeightM = 4.4;  // on the upper storey

}  // namespace

TEST_CASE("the bound is never over what a last leg passes, and is worth its name") {
  double passed_db = 0, bounded_db = 0;
  for (const std::uint64_t seed : {1, 2, 3, 4}) {
    const Scene scene(fixture::random_block(seed, 2, 6, 5), Doors::armed);
    const MapPlane plane(scene, kBlock, kPlaneHeightM, 0.1);
    const RandomStream random(seed, 0x91A);
    for (std::uint64_t i = 0; i < 2000; ++i) {
      const auto aperture =
          static_cast<std::uint32_t>(random.uniform(3 * i) * static_cast<double>(scene.apertures().size()));
      const Aperture& of = scene.apertures()[aperture];
      const Point3 cell{24 * random.uniform(3 * i + 1), 20 * random.uniform(3 * i + 2), kPlaneHeightM};
      const bool left = dot(of.normal, cell.plan() - of.base.a) > 0;
      const Point3 foot = scene.detour_graph().entry_point(aperture, left);
      const double length_m = distance(snapped_in_plan(cell), snapped_in_plan(foot));
      const double leg_db = leg_cost_db(scene, cell, foot, kNone, of.line) - kLegCostDbPerM * length_m;
      CAPTURE(i);
      REQUIRE(plane.least_passed_db(cell, aperture, left) <= leg_db + 1e-9);
      passed_db += leg_db;
      bounded_db += plane.least_passed_db(cell, aperture, left);
    }
  }
  MESSAGE("of what legs pass the bound knows " << 100 * bounded_db / passed_db << " in 100");
  CHECK(bounded_db > 0.4 * passed_db);
}

TEST_CASE("nothing is known of what is no cell of the plane") {
  const Scene scene(fixture::random_block(1, 2, 6, 5), Doors::armed);
  const MapPlane plane(scene, kBlock, kPlaneHeightM, 0.1);
  for (const Point3 other :
       {Point3{12, 10, 1.5}, Point3{30, 10, kPlaneHeightM}, Point3{12, -1, kPlaneHeightM}})
    CHECK(plane.least_passed_db(other, 0, true) == 0);
}

TEST_CASE("the end of a map has the losses of any other end") {
  for (const std::uint64_t seed : {31, 32}) {
    Site site = fixture::random_block(seed, 2, 6, 5);
    site.radio.surroundings = seed == 32 ? Surroundings::street : site.radio.surroundings;
    const Scene scene(site, Doors::open);
    const auto plane = std::make_shared<const MapPlane>(scene, kBlock, kPlaneHeightM, 0.2);
    const RandomStream random(seed, 2);
    for (std::uint64_t i = 0; i < 10; ++i) {
      const Point3 at = fixture::random_point(random, 1000 * i, 2, 6, 5);
      const LinkEndpoint end(scene, at), of_map(scene, at, plane);
      for (std::uint64_t j = 1; j < 100; ++j) {
        const Point3 to{26 * random.uniform(3000 * i + 3 * j) - 1,
                        22 * random.uniform(3000 * i + 3 * j + 1) - 1, kPlaneHeightM};
        const LossBreakdown one = path_loss(end, to), other = path_loss(of_map, to);
        CAPTURE(to.x);
        CAPTURE(to.y);
        REQUIRE(std::abs(one.path_loss_db - other.path_loss_db) <= 1e-6);
        REQUIRE(std::abs(one.sigma_db - other.sigma_db) <= 1e-6);
        REQUIRE(one.turns == other.turns);
      }
    }
  }
}
