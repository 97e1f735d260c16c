#include "linkmargin/prediction/serving/place_levels.hpp"

#include "linkmargin/prediction/link_table.hpp"

#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;

TEST_CASE("a list of places has the figures of check for devices there, for any number of threads") {
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    CAPTURE(seed);
    const Site site = fixture::random_block(seed, 2, 2, 2);
    const LinkTable table = link_table(site, {});
    for (const int threads : {1, 3}) {
      const auto levels = place_levels(site, site.devices, {.threads = threads});
      REQUIRE(levels.size() == table.links.size());
      for (std::size_t i = 0; i < levels.size(); ++i) {
        const Link& link = table.links[i];
        CHECK(levels[i].hub == link.hub);
        CHECK(levels[i].path_loss_db == link.loss.path_loss_db);
        CHECK(levels[i].level_dbm == link.weaker().level.value);
        CHECK(levels[i].margin_db == link.weaker().margin.value);
        CHECK(levels[i].reading_percent == link.weaker().reading_percent);
        CHECK(levels[i].pass_probability == link.pass_probability);
        CHECK(levels[i].weak == link.weak);
      }
    }
  }
}

TEST_CASE("what the hub sends arrives whether the radio listens or not") {
  Site site = fixture::two_rooms();
  const Link link = link_table(site, {}).links.at(0);
  REQUIRE(link.downlink);
  const auto listening = place_levels(site, site.devices);
  CHECK(std::abs(listening.at(0).received_dbm.value() - link.downlink->level.value) <= 1e-9);
  Profile& profile = site.profiles.at(site.devices.at(0).profile);
  profile.two_way = false;
  profile.sensitivity = {};
  CHECK(place_levels(site, site.devices).at(0).received_dbm == listening.at(0).received_dbm);
}
