#include "linkmargin/link/mechanism/scene.hpp"

#include "fixtures/parts.hpp"
#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;

TEST_CASE("rooms that share an edge have one wall there") {
  const Scene scene(fixture::two_rooms(), Doors::armed);
  int inner = 0, outer = 0;
  for (const Panel& panel : scene.panels()) {
    REQUIRE(panel.barrier != kNone);
    const Barrier& barrier = scene.barriers()[panel.barrier];
    (barrier.name == fixture::wall_between("left", "right") ? inner : outer) += 1;
    CHECK(panel.bottom_m == 0);
    CHECK(panel.top_m == 2.5);
  }
  CHECK(inner == 1);
  CHECK(outer >= 6);
}

TEST_CASE("open plan leaves no panel") {
  Site site = fixture::two_rooms();
  site.storeys[0].boundaries = {{"left", "right", {kNoMaterial, {}}}};
  const Scene scene(site, Doors::armed);
  for (const Panel& panel : scene.panels()) CHECK(panel.base.a.x + panel.base.b.x != 8);
}

TEST_CASE("materials outside their frequencies are said once, together") {
  Site site = fixture::two_rooms();
  site.storeys[0].outer_wall = {"brick", 0.24};
  site.storeys[0].inner_wall = {"brick", 0.1};
  const Scene scene(site, Doors::armed);
  CHECK(scene.warnings() ==
        std::vector<Warning>{{.code = WarningCode::materials_out_of_band,
                              .arguments = {{"frequency", Figure{868.3}},
                                            {"materials", std::vector<StatedBand>{{"brick", 1e9, 40e9}}}}}});
}

TEST_CASE("elements carry what they are made of") {
  Site site = fixture::two_rooms();
  site.storeys[0].inner_wall = {"brick", 0.1};
  site.storeys[0].roof = Construction{"slab", 0.2};
  const Scene scene(site, Doors::armed);
  bool brick = false, roof = false;
  for (const Barrier& barrier : scene.barriers()) {
    brick |= barrier.name == fixture::wall_between("left", "right") && barrier.material == "brick 0.1 m";
    roof |= barrier.name == fixture::roof_over("ground") && barrier.material == "slab" &&
            barrier.cause == LossCause::floor;
  }
  CHECK(brick);
  CHECK(roof);
  REQUIRE(scene.slabs().size() == 2);  // one a room
  CHECK(scene.slabs()[0].z_m == 2.6);
}

TEST_CASE("what lies in a floor or a roof lies indoors, to a millimetre where none is stated") {
  Site site = fixture::two_rooms();
  Storey upper = fixture::storey("upper", 2.75, 2.5);
  upper.floor = Construction{"slab", 0.25};
  upper.roof = Construction{"slab", 0.2};
  upper.rooms = {{"above", rectangle({0, 0}, 4, 4)}};
  site.storeys.push_back(upper);
  const Scene scene(site, Doors::armed);
  const auto indoors = [&](double x, double z_m) { return scene.indoors({x, 2, z_m}); };
  for (const double z_m : {0.0, 2.5, 2.625, 2.75, 5.25, 5.449}) CHECK(indoors(2, z_m));
  CHECK_FALSE(indoors(2, 5.451));
  CHECK_FALSE(indoors(2, -0.002));
  CHECK(indoors(6, 2.5));
  CHECK_FALSE(indoors(6, 2.502));  // the lower storey alone
  CHECK_FALSE(indoors(9, 1));
}
