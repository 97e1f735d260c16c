#include "linkmargin/link/path_loss.hpp"

#include "fixtures/turned_sites.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

using namespace linkmargin;

namespace {

constexpr std::uint64_t kSites = 500;
constexpr double kSameDb = 0.05;

/// From the hub to each device.
std::vector<double> losses_db(Site site, bool reverberation) {
  site.radio.reverberation = reverberation;
  const Scene scene(site, Doors::armed);
  const LinkEndpoint hub(scene, site.point(site.hubs[0].place));
  std::vector<double> found;
  for (const Device& device : site.devices)
    found.push_back(path_loss(hub, site.point(device.place)).path_loss_db);
  return found;
}

/// The links whose loss differs by more than kSameDb where each site is drawn another way.
template <typename Draw>
int differing(bool reverberation, Draw draw) {
  int count = 0, links = 0;
  double worst_db = 0;
  for (std::uint64_t seed = 0; seed < kSites; ++seed) {
    const Site site = turned::random_site(seed);
    const std::vector<double> before = losses_db(site, reverberation),
                              after = losses_db(draw(site, seed), reverberation);
    for (std::size_t i = 0; i < before.size(); ++i, ++links) {
      const double apart_db = std::abs(after[i] - before[i]);
      worst_db = std::max(worst_db, apart_db);
      count += apart_db > kSameDb ? 1 : 0;
      if (apart_db > kSameDb)
        MESSAGE("site " << seed << ", device " << i << ": " << before[i] << ", " << after[i]);
    }
  }
  MESSAGE(count << " of " << links << " links differ, worst " << worst_db << " dB");
  return count;
}

}  // namespace

TEST_CASE("a site's mirror image has the same levels") {
  for (const bool reverberation : {false, true})
    CHECK(differing(reverberation, [](const Site& site, std::uint64_t) { return turned::mirrored(site); }) ==
          0);
}

TEST_CASE("so has the site turned by one, two and three quarters") {
  for (const bool reverberation : {false, true}) {
    for (const int quarters : {1, 2, 3}) {
      CHECK(differing(reverberation, [=](const Site& site, std::uint64_t) {
              return turned::quarter_turned(site, quarters);
            }) == 0);
    }
  }
}

TEST_CASE("so has the site elsewhere on the sheet, and written in another order") {
  for (const bool reverberation : {false, true}) {
    CHECK(differing(reverberation, [](const Site& site, std::uint64_t) {
            return turned::shifted(site, {17.375, -5.25});
          }) == 0);
    CHECK(differing(reverberation,
                    [](const Site& site, std::uint64_t seed) { return turned::reordered(site, seed); }) == 0);
  }
}

TEST_CASE("so has the site turned by any angle, but for a few corners that a line just meets") {
  // Coordinates are rounded to a millimetre then: where a line meets or misses a wall's end by less, it may
  // step.
  CHECK(differing(true, [](const Site& site, std::uint64_t seed) {
          return turned::turned_by(site, 1 + static_cast<double>(seed % 89));
        }) <= 4);
}
