#include "linkmargin/link/mechanism/link_endpoint.hpp"

#include "linkmargin/link/path_loss.hpp"

#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstddef>

using namespace linkmargin;

TEST_CASE("a link from a vantage is the link between its ends, whichever end the vantage is") {
  const Site site = fixture::random_block(31, 2, 6, 5);
  const Scene scene(site, Doors::open);
  const RandomStream random(32, 1);
  std::ptrdiff_t round = 0;
  for (std::uint64_t i = 0; i < 40; ++i) {
    const LinkEndpoint from(scene, fixture::random_point(random, 100 * i, 2, 6, 5));
    for (std::uint64_t j = 1; j < 50; ++j) {
      const Point3 to = fixture::random_point(random, 100 * i + j, 2, 6, 5);
      const LossBreakdown seen = path_loss(from, to);
      const LossBreakdown between = path_loss(scene, from.at(), to);
      REQUIRE(std::abs(seen.path_loss_db - between.path_loss_db) <= 1e-9);
      REQUIRE(std::abs(seen.sigma_db - between.sigma_db) <= 1e-9);
      REQUIRE(seen.items.size() == between.items.size());
      for (std::size_t k = 0; k < seen.items.size(); ++k)
        REQUIRE(seen.items[k].part == between.items[k].part);
      round += std::ranges::count(seen.items, LossCause::other_ways, &LossItem::cause);
    }
  }
  CHECK(round > 20);  // ways round were among them
}
