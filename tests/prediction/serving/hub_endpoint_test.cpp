#include "linkmargin/prediction/serving/hub_endpoint.hpp"

#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;

TEST_CASE("a hub's end has its place over the site's zero, its metal and the noise about it") {
  Site site = fixture::two_rooms();
  site.storeys[0].level_m = 2;
  site.radio.noise_rise_db = 3;
  const HubRadio free = hub_radio(site, site.hubs[0]);
  CHECK(free.name == "hub");
  CHECK(free.at == Point3{1, 2, 3.5});
  CHECK(!free.radio.metal);
  CHECK(free.radio.noise_rise_db >= 3);
  site.hubs[0].mount = Mount{.on = Mount::On::metal, .gap_m = 0.01, .faces_deg = 90};
  const HubRadio fixed = hub_radio(site, site.hubs[0]);
  REQUIRE(fixed.radio.metal);
  CHECK(fixed.radio.metal->faces_deg == 90.0);
  CHECK(fixed.radio.metal_loss_db > 0);
}

TEST_CASE("both ways: the one with the smaller margin is the weaker, one alone is, none is nothing") {
  RadioEnd device{.eirp = Dbm{10}, .sensitivity = Dbm{-100}};
  RadioEnd hub{.eirp = Dbm{10}, .sensitivity = Dbm{-105}};
  const auto both = two_way_budget(device, hub, 80, {});
  REQUIRE(both);
  REQUIRE(both->downlink);
  CHECK(both->uplink.margin.value == 35);
  CHECK(both->downlink->margin.value == 30);
  CHECK(both->weaker_is_downlink);
  hub.sensitivity = Dbm{-90};
  CHECK(!two_way_budget(device, hub, 80, {})->weaker_is_downlink);
  device.sensitivity.reset();
  const auto one = two_way_budget(device, hub, 80, {});
  REQUIRE(one);
  CHECK(!one->downlink);
  CHECK(!one->weaker_is_downlink);
  device.eirp.reset();
  CHECK(!two_way_budget(device, hub, 80, {}));
}
