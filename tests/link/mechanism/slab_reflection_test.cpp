#include "linkmargin/link/mechanism/slab_reflection.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/link/mechanism/scene.hpp"
#include "linkmargin/propagation/path_loss/free_space.hpp"

#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

using namespace linkmargin;

namespace {

/// One room of 12 x 8 x 2.5 m, its floor and roof of these.
Site hall(Construction floor, Construction roof) {
  Site site = fixture::two_rooms();
  site.storeys[0].rooms = {{"hall", rectangle({0, 0}, 12, 8)}};
  site.storeys[0].height_m = 2.5;
  site.storeys[0].floor = floor;
  site.storeys[0].roof = roof;
  site.materials.insert_or_assign("metal", fixture::measured("metal", 60));
  site.materials.insert_or_assign("nothing", fixture::measured("nothing", 0));
  return site;
}

double change_db(const Site& site, Point3 a, Point3 b, double direct_db = 0) {
  const Scene scene(site, Doors::armed);
  return slab_reflection_db(scene, trace(scene, a, b), direct_db);
}

}  // namespace

TEST_CASE("between two sheets of metal: every pair of waves by hand") {
  // 1.5 m over the one and 1 m under the other, 6 m apart. Metal turns the horizontal field round and keeps
  // that in the wave's upright plane in its sense; elevations are those of the mirror images.
  const Site site = hall({"metal", {}}, {"metal", {}});
  const Point3 a{2, 4, 1.5}, b{8, 4, 1.5};
  const double wavenumber = 2 * kPi / wavelength_m(site.radio.frequency_hz);
  struct Mirror {
    double away_m;
    double side;
  };
  double power = 1;
  std::vector<std::array<double, 4>> waves{{1, 0, 0, 0}};  // amplitude, phase, leaves, arrives
  for (const Mirror mirror : {Mirror{1.5, 1}, Mirror{1.0, -1}}) {
    const double length_m = std::hypot(6, 2 * mirror.away_m), rise = std::atan(2 * mirror.away_m / 6);
    waves.push_back({6 / length_m, -wavenumber * (length_m - 6), -mirror.side * rise, mirror.side * rise});
  }
  for (std::size_t i = 0; i < waves.size(); ++i) {
    for (std::size_t j = 0; j <= i; ++j) {
      if (i == 0) continue;
      const double te = (i > 0 ? -1 : 1) * (j > 0 ? -1 : 1);
      const double tm = std::cos(waves[i][2] - waves[j][2]) * std::cos(waves[i][3] - waves[j][3]);
      const double spread =
          std::pow(0.05 * wavenumber, 2) * (std::pow(std::sin(waves[i][2]) - std::sin(waves[j][2]), 2) +
                                            std::pow(std::sin(waves[i][3]) - std::sin(waves[j][3]), 2));
      power += (i == j ? 1 : 2) * waves[i][0] * waves[j][0] * std::exp(-spread / 2) *
               std::cos(waves[i][1] - waves[j][1]) * (te + tm) / 2;
    }
  }
  CHECK(std::abs(change_db(site, a, b) + 10 * std::log10(power)) <= 1e-6);
}

TEST_CASE("swapping the ends changes it by rounding only") {
  const Site site = fixture::random_block(21, 2, 4, 3);
  const RandomStream random(22, 1);
  double worst_db = 0;
  int changed = 0;
  for (std::uint64_t i = 0; i < 400; ++i) {
    const Point3 a = fixture::random_point(random, 2 * i, 2, 4, 3);
    const Point3 b = fixture::random_point(random, 2 * i + 1, 2, 4, 3);
    const double forth = change_db(site, a, b, 10), back = change_db(site, b, a, 10);
    worst_db = std::max(worst_db, std::abs(forth - back));
    changed += std::abs(forth) > 0.05 ? 1 : 0;
  }
  CHECK(worst_db <= 1e-9);
  CHECK(changed > 100);
}

TEST_CASE("out of doors there is no image, nor where a hole takes the place of the slab") {
  Site site = hall({"metal", {}}, {"metal", {}});
  CHECK(change_db(site, {-3, 4, 1.5}, {-9, 4, 1.5}) == 0);
  const double closed_db = change_db(site, {2, 4, 0.4}, {8, 4, 0.4});
  site.storeys[0].floor_openings = {{"shaft", rectangle({4, 3}, 2, 2)}};  // where the floor's image is met
  const double open_db = change_db(site, {2, 4, 0.4}, {8, 4, 0.4});
  site.storeys[0].floor_openings = {{"shaft", rectangle({6.5, 3}, 2, 2)}};  // beside it
  CHECK(change_db(site, {2, 4, 0.4}, {8, 4, 0.4}) == closed_db);
  CHECK(std::abs(open_db - closed_db) > 1);
}

TEST_CASE("no more than the loss of 15.2 dB, however the phases fall") {
  const Site site = hall({"metal", {}}, {"metal", {}});
  double most_db = 0, least_db = 0;
  for (double x = 2.5; x < 11.5; x += 0.05) {
    const double db = change_db(site, {1, 4, 1.3}, {x, 4, 1.1}, 6);
    most_db = std::max(most_db, db);
    least_db = std::min(least_db, db);
  }
  CHECK(most_db <= 15.3);
  CHECK(least_db < -3);
  CHECK(least_db > -15);
}
