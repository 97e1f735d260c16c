#include "linkmargin/link/reverberation/echo_curves.hpp"

#include "linkmargin/link/mechanism/scene.hpp"

#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace linkmargin;

TEST_CASE("what is interpolated is what the field says, indoors and as far as curves reach") {
  int asked = 0, told = 0;
  double farthest_off = 0;
  for (const std::uint64_t seed : {5, 6, 7}) {
    Site site = fixture::random_block(seed, 2, 6, 5);
    site.radio.surroundings = seed == 6 ? Surroundings::street : site.radio.surroundings;
    const Scene scene(site, Doors::armed);
    const DiffuseField& field = scene.diffuse_field();
    const RandomStream random(seed, 0xEC0);
    for (std::uint64_t i = 0; i < 8; ++i) {
      Point3 at = fixture::random_point(random, 500 * i, 2, 6, 5);
      if (i == 7) at = {-4, 3, 2};  // out of doors
      const auto from = field.end(scene, at);
      const EchoCurves curves(field, from);
      for (std::uint64_t j = 1; j < 200; ++j) {
        const Point3 to = fixture::random_point(random, 500 * i + j, 2, 6, 5);
        const Echoes exact = field.echoes(*from, *field.end(scene, to), distance(at, to));
        asked += scene.indoors(to) ? 1 : 0;
        const auto found = curves.at(to, distance(at, to));
        if (!found) continue;
        ++told;
        REQUIRE(found->told == exact.told);
        REQUIRE(std::abs(found->by_street - exact.by_street) <= 1e-12 * exact.by_street);
        if (exact.in_building > 0)
          farthest_off = std::max(farthest_off, std::abs(found->in_building / exact.in_building - 1));
      }
    }
    const EchoCurves curves(field, field.end(scene, {3, 3, 1}));
    CHECK(!curves.at({-3, -3, 1}, 5));
    CHECK(!curves.at({3, 3, 1}, EchoCurves::kFarthestM));
  }
  MESSAGE(told << " of " << asked << " places indoors, farthest off " << farthest_off);
  CHECK(farthest_off <= 1e-7);
  CHECK(told > 0.9 * asked);
}
