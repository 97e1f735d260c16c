#include "linkmargin/prediction/material_neighbours.hpp"

#include "fixtures/site_fixture.hpp"
#include "fixtures/warnings.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;

namespace {

/// Two rooms whose outer wall loses own_db, beside two others of its group at 10 and 11 dB.
Site of_a_group(double own_db, double sigma_db) {
  Site site = fixture::two_rooms();
  site.materials["own"] = fixture::measured("own", own_db, sigma_db);
  site.materials["near"] = fixture::measured("near", 10);
  site.materials["nearer"] = fixture::measured("nearer", 11);
  for (const char* name : {"own", "near", "nearer"}) site.materials.at(name).group = "stones";
  site.materials.at("own").use = {"wall"};
  site.storeys[0].outer_wall = {"own", {}};
  return site;
}

bool is_asked(const Site& site) {
  const auto warnings = neighbour_warnings(site, [](const std::string& name) { return name == "own"; });
  CHECK(warnings.size() <= 1);  // once, however many walls there are
  return !warnings.empty();
}

}  // namespace

TEST_CASE(
    "a row is asked about 6 dB from the nearest of its group, or 1.5 of its own spreads where that is more") {
  CHECK_FALSE(is_asked(of_a_group(16.9, 0)));
  CHECK(is_asked(of_a_group(17.1, 0)));
  CHECK_FALSE(is_asked(of_a_group(4.1, 0)));
  CHECK(is_asked(of_a_group(3.9, 0)));
  CHECK(is_asked(of_a_group(17.1, 4)));           // 1.5 x 4 = 6
  CHECK_FALSE(is_asked(of_a_group(23.9, 8.65)));  // 1.5 x 8.65 = 12.975
  CHECK(is_asked(of_a_group(24.1, 8.65)));
}

TEST_CASE("one other row is no group, and a thing in the way is like no other") {
  Site site = of_a_group(30, 0);
  REQUIRE(is_asked(site));
  Site pair = site;
  pair.materials.erase("near");
  CHECK_FALSE(is_asked(pair));
  site.materials.at("own").use = {"obstacle"};
  CHECK_FALSE(is_asked(site));
  site.materials.at("own").use = {"obstacle", "wall"};
  CHECK(is_asked(site));
}
