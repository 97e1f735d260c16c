#include "linkmargin/link/building/slab_bound.hpp"

#include "linkmargin/link/building/building.hpp"
#include "linkmargin/link/building/path.hpp"

#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace linkmargin;

TEST_CASE("the bound is never over what a line's slabs cost, nor over their count, and is worth its name") {
  int lines = 0, bounded = 0;
  for (const std::uint64_t seed : {1, 2, 3, 4}) {
    Site site = fixture::random_block(seed, 4, 4, 3);
    site.storeys[2].floor_openings = {{"stairwell", rectangle({2, 3}, 3, 4)}};
    const Building scene(site, Doors::armed);
    const SlabBound bound(scene);
    const RandomStream random(seed, 0x51AB);
    for (std::uint64_t i = 0; i < 500; ++i) {
      const Point3 a = fixture::random_point(random, 2 * i, 4, 4, 3),
                   b = fixture::random_point(random, 2 * i + 1, 4, 4, 3);
      double slabs_db = 0;
      int slabs = 0;
      for (const Crossing& crossing : trace(scene, a, b).crossings) {
        if (crossing.wall != kNone || crossing.obstacle != kNone) continue;
        slabs_db += plain_loss_db(scene, crossing);
        ++slabs;
      }
      CAPTURE(i);
      CHECK(bound.least_db(a, b, 1e9) <= slabs_db + 1e-9);
      CHECK(bound.closed(a, b) <= slabs);
      CHECK(bound.closed(a, b) == bound.closed(b, a));
      lines += slabs > 0 ? 1 : 0;
      bounded += bound.closed(a, b) > 0 ? 1 : 0;
    }
  }
  MESSAGE(bounded << " of " << lines << " lines through slabs are bounded");
  CHECK(lines > 500);
  CHECK(bounded > lines / 4);
}
