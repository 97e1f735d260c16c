#include "fixtures/sound_site.hpp"

using namespace linkmargin;
using site_test::FaultCase;

TEST_CASE("the sound site, and a block of rooms, have no fault") {
  CHECK(validate(site_test::sound_site()).empty());
  CHECK(validate(site_test::block(7, 5)).empty());
}

TEST_CASE("faults of rooms") {
  site_test::check_fault_cases({
      {"two rooms overlap",
       [](Site& s) {
         s.storeys[1].rooms.push_back({"store", rectangle({5, 3}, 4, 4)});
         s.storeys[1].inner_wall = {"board", {}};
       },
       "/storeys/upper/rooms/store", "rooms 'office' and 'store' overlap by 1.00 m, over 1.00 m",
       "one of them is 1.00 m too wide"},
      {"one room in another",
       [](Site& s) {
         s.storeys[1].rooms.push_back({"cupboard", rectangle({1, 1}, 1, 1)});
       },
       "/storeys/upper/rooms/cupboard", "overlap by 1.00 m2"},
      {"typed two centimetres into each other",
       [](Site& s) {
         s.storeys[1].rooms.push_back({"store", rectangle({5.98, 0}, 4, 4)});
       },
       "/storeys/upper/rooms/store", "overlap by 0.02 m, over 4.00 m", "one of them is 0.02 m too wide"},
      {"a bow tie",
       [](Site& s) {
         s.storeys[1].rooms[0].corners = {{0, 0}, {4, 4}, {4, 0}, {0, 4}};
       },
       "/storeys/upper/rooms/office/corners_m", "room 'office' crosses or touches itself at (2, 2)",
       "in order"},
      {"a room without area",
       [](Site& s) {
         s.storeys[1].rooms[0].corners = {{0, 0}, {4, 4}, {2, 2}};
       },
       "/storeys/upper/rooms/office/corners_m", "room 'office' has no area"},
      {"a room of one corner",
       [](Site& s) {
         s.storeys[1].rooms[0].corners = {{1, 1}, {1, 1}, {1, 1}};
       },
       "/storeys/upper/rooms/office/corners_m", "has no area"},
      {"two rooms of one name",
       [](Site& s) {
         s.storeys[1].rooms.push_back({"office", rectangle({6, 0}, 4, 4)});
       },
       "/storeys/upper/rooms/office", "more than one room 'office'"},
      {"a room named outside", [](Site& s) { s.storeys[1].rooms[0].name = kOutside; },
       "/storeys/upper/rooms/outside", "cannot be named 'outside'"},
      {"an outer wall is needed", [](Site& s) { s.storeys[0].outer_wall = {}; }, "/storeys/ground/outer_wall",
       "needs an outer_wall: nothing says what stands between 'shop' and 'outside'"},
      {"an inner wall is needed", [](Site& s) { s.storeys[0].inner_wall = {}; }, "/storeys/ground/inner_wall",
       "nothing says what stands between 'workshop' and 'hall'"},
  });
}

TEST_CASE("walls that nobody needs may be left out") {
  Site site = site_test::sound_site();
  site.storeys[1].inner_wall = {};  // one room
  site.storeys[0].inner_wall = {};
  site.storeys[0].boundaries.push_back({"workshop", "hall", {"board", {}}});
  CHECK(validate(site).empty());
}

TEST_CASE("rooms typed a centimetre into each other are one wall, not a fault") {
  Site site = site_test::sound_site();
  site.storeys[1].rooms.push_back({"store", rectangle({snapped(5.991), 0}, 4, 4)});
  CHECK(validate(site).empty());
}

TEST_CASE("faults of boundaries and traced walls") {
  site_test::check_fault_cases({
      {"an unknown room",
       [](Site& s) {
         s.storeys[0].boundaries.push_back({"hal", "workshop", {"board", {}}});
       },
       "/storeys/ground/boundaries/2/between/0", "unknown room 'hal'", "did you mean 'hall'?"},
      {"a misspelt outside",
       [](Site& s) {
         s.storeys[0].boundaries.push_back({"hall", "outsde", {"board", {}}});
       },
       "/storeys/ground/boundaries/2/between/1", "unknown room 'outsde'", "did you mean 'outside'?"},
      {"one room twice",
       [](Site& s) {
         s.storeys[0].boundaries.push_back({"hall", "hall", {"board", {}}});
       },
       "/storeys/ground/boundaries/2/between", "'hall' stands there twice"},
      {"rooms that are apart",
       [](Site& s) {
         s.storeys[0].rooms.push_back({"garage", rectangle({12.25, 0}, 4, 4)});
         s.storeys[0].boundaries.push_back({"workshop", "garage", {"board", {}}});
       },
       "/storeys/ground/boundaries/2/between", "no wall stands between 'workshop' and 'garage'",
       "0.25 m apart"},
      {"rooms that meet at a corner",
       [](Site& s) {
         s.storeys[0].rooms.push_back({"garage", rectangle({12, 8}, 4, 4)});
         s.storeys[0].boundaries.push_back({"workshop", "garage", {"board", {}}});
       },
       "/storeys/ground/boundaries/2/between", "no wall stands between", "at a corner only"},
      {"a boundary given twice, the other way round",
       [](Site& s) {
         s.storeys[0].boundaries.push_back({"workshop", "shop", {"board", {}}});
       },
       "/storeys/ground/boundaries/2/between", "the boundary between 'workshop' and 'shop' is given twice"},
      {"a wall without length",
       [](Site& s) {
         s.storeys[0].walls.push_back({"stub", {{20, 3}, {20, 3}}, {"board", {}}, {}});
       },
       "/storeys/ground/walls/stub/to_m", "wall 'stub' has no length"},
      {"two walls of one name",
       [](Site& s) {
         s.storeys[0].walls.push_back({"yard wall", {{20, 3}, {20, 5}}, {"board", {}}, {}});
       },
       "/storeys/ground/walls/1/name", "more than one wall 'yard wall'"},
      {"two obstacles of one name",
       [](Site& s) { s.storeys[0].obstacles.push_back(s.storeys[0].obstacles[0]); },
       "/storeys/ground/obstacles/1/name", "more than one obstacle 'kiln'"},
      {"an obstacle that crosses itself",
       [](Site& s) {
         s.storeys[0].obstacles[0].corners = {{9, 5}, {11, 7}, {11, 5}, {9, 7}};
       },
       "/storeys/ground/obstacles/kiln/corners_m", "obstacle 'kiln' crosses or touches itself at (10, 6)",
       "in order"},
      {"a floor opening that crosses itself",
       [](Site& s) {
         s.storeys[1].floor_openings = {{"stairwell", {{1, 1}, {3, 3}, {3, 1}, {1, 3}}}};
       },
       "/storeys/upper/floor_openings/stairwell/corners_m",
       "floor opening 'stairwell' crosses or touches itself at (2, 2)", "in order"},
      {"a floor opening without area",
       [](Site& s) {
         s.storeys[1].floor_openings = {{"stairwell", {{1, 1}, {2, 1}, {3, 1}}}};
       },
       "/storeys/upper/floor_openings/stairwell/corners_m", "floor opening 'stairwell' has no area"},
      {"a floor opening beside the rooms",
       [](Site& s) {
         s.storeys[1].floor_openings = {
             {"stairwell", rectangle({6, 1}, 2, 2)}};  // touching the wall at x = 6
       },
       "/storeys/upper/floor_openings/stairwell/corners_m",
       "floor opening 'stairwell' lies outside the rooms of storey 'upper'", "spans its rooms"},
      {"a floor opening in a corner that an L-shaped room leaves out",
       [](Site& s) {
         s.storeys[1].rooms[0].corners = {{0, 0}, {6, 0}, {6, 2}, {3, 2}, {3, 4}, {0, 4}};
         s.storeys[1].floor_openings = {{"stairwell", rectangle({4, 2.5}, 1, 1)}};
       },
       "/storeys/upper/floor_openings/stairwell/corners_m", "outside the rooms", "spans its rooms"},
      {"two floor openings of one name",
       [](Site& s) {
         s.storeys[1].floor_openings = {{"shaft", rectangle({1, 1}, 1, 1)},
                                        {"shaft", rectangle({3, 1}, 1, 1)}};
       },
       "/storeys/upper/floor_openings/1/name", "more than one floor opening 'shaft'"},
  });
}

TEST_CASE("faults of storeys") {
  site_test::check_fault_cases({
      {"two storeys of one name", [](Site& s) { s.storeys[1].name = "ground"; }, "/storeys/1/name",
       "more than one storey 'ground'"},
      {"a storey under the ceiling of another", [](Site& s) { s.storeys[1].level_m = 2.0; },
       "/storeys/upper/level_m",
       "begins at 2.00 m, under the ceiling of 'ground' at 2.60 m, over its room 'shop'"},
  });
}

TEST_CASE("storeys beside each other, or with heights from floor to floor, are no fault") {
  Site beside = site_test::sound_site();
  beside.storeys[1].level_m = 1.0;
  beside.storeys[1].rooms[0].corners = rectangle({20, 0}, 6, 4);
  beside.repeaters[0].place.at = {22, 2};
  CHECK(validate(beside).empty());
  Site floor_to_floor = site_test::sound_site();
  floor_to_floor.storeys[1].level_m = 2.4;  // its slab of 0.2 m reaches from 2.4 to 2.6
  CHECK(validate(floor_to_floor).empty());
}

TEST_CASE("faults of openings") {
  site_test::check_fault_cases({
      {"an unknown room",
       [](Site& s) {
         s.storeys[0].openings.push_back(site_test::opening("hatch", "shop", "halls", {3, 4}, 0.5));
       },
       "/storeys/ground/openings/hatch/between/1", "unknown room 'halls'", "'hall'"},
      {"an unknown traced wall", [](Site& s) { s.storeys[0].openings[1].wall = "yard wal"; },
       "/storeys/ground/openings/yard gate/wall", "unknown wall 'yard wal'", "'yard wall'"},
      {"off its wall",
       [](Site& s) {
         s.storeys[0].openings.push_back(site_test::opening("hatch", "shop", kOutside, {3, 0.5}, 0.5));
       },
       "/storeys/ground/openings/hatch/at_m",
       "does not lie on a wall between 'shop' and 'outside': 0.50 m away"},
      {"on a wall of other rooms",
       [](Site& s) {
         s.storeys[0].openings.push_back(site_test::opening("hatch", "shop", kOutside, {6, 6.98}, 0.5));
       },
       "/storeys/ground/openings/hatch/at_m", "does not lie on a wall between 'shop' and 'outside'",
       "the nearest wall, 0.00 m away, is the wall between 'workshop' and 'hall'"},
      {"rooms that share no wall",
       [](Site& s) {
         s.storeys[0].rooms.push_back({"garage", rectangle({20, 0}, 4, 4)});
         s.storeys[0].openings.push_back(site_test::opening("hatch", "shop", "garage", {22, 0.1}, 0.5));
       },
       "/storeys/ground/openings/hatch/at_m", "none stands between 'shop' and 'garage'",
       "'shop' borders 'workshop' (right), 'hall' (above); 'garage' borders no other room"},
      {"overhanging the end of its wall",
       [](Site& s) {
         s.storeys[0].openings.push_back(site_test::opening("hatch", "shop", kOutside, {0.25, 0}, 1.2));
       },
       "/storeys/ground/openings/hatch/at_m", "overhangs the wall between 'shop' and 'outside' by 0.35 m",
       "6.00 m"},
      {"wider than its wall", [](Site& s) { s.storeys[0].openings[1].width_m = 7; },
       "/storeys/ground/openings/yard gate/width_m", "overhangs the traced wall 'yard wall' by 0.50 m",
       "6.00 m long, from (12, 8) to (18, 8)"},
      {"higher than its wall", [](Site& s) { s.storeys[0].openings[1].height_m = 2; },
       "/storeys/ground/openings/yard gate/height_m",
       "reaches 2.00 m, over the traced wall 'yard wall' of 1.80 m"},
      {"a sill that lifts it over the ceiling", [](Site& s) { s.storeys[0].openings[0].sill_m = 0.9; },
       "/storeys/ground/openings/street door/height_m", "reaches 2.90 m"},
      {"over another opening",
       [](Site& s) {
         s.storeys[0].openings.push_back(site_test::opening("hatch", kOutside, "shop", {3.2, 0}, 0.6));
       },
       "/storeys/ground/openings/hatch/at_m", "openings 'street door' and 'hatch' overlap by 0.05 m",
       "from_left_m, from_right_m or at_m says where one is"},
      {"two openings of one name",
       [](Site& s) {
         s.storeys[0].openings.push_back(site_test::opening("street door", "shop", kOutside, {4.5, 0}, 0.6));
       },
       "/storeys/ground/openings/3/name", "more than one opening 'street door'"},
      {"one room twice",
       [](Site& s) {
         s.storeys[0].openings.push_back(site_test::opening("hatch", "hall", "hall", {3, 4}, 0.5));
       },
       "/storeys/ground/openings/hatch/between", "'hall' stands there twice"},
  });
}

TEST_CASE("openings side by side, and one over the other, are no fault") {
  Site site = site_test::sound_site();
  Opening beside = site.storeys[0].openings[0];
  beside.name = "shop window";
  beside.at = {3.4, 0.1};  // begins where the door ends
  Opening fanlight = site.storeys[0].openings[0];
  fanlight.name = "fanlight";
  fanlight.sill_m = 2;
  fanlight.height_m = 0.4;
  site.storeys[0].openings.push_back(beside);
  site.storeys[0].openings.push_back(fanlight);
  CHECK(validate(site).empty());
}

TEST_CASE("faults of materials") {
  site_test::check_fault_cases({
      {"outer wall", [](Site& s) { s.storeys[1].outer_wall.material = "haevy"; },
       "/storeys/upper/outer_wall/material", "unknown material 'haevy'", "did you mean 'heavy'?"},
      {"inner wall", [](Site& s) { s.storeys[0].inner_wall.material = "bord"; },
       "/storeys/ground/inner_wall/material", "unknown material 'bord'", "'board'"},
      {"boundary", [](Site& s) { s.storeys[0].boundaries[0].construction.material = "gabel"; },
       "/storeys/ground/boundaries/0/material", "unknown material 'gabel'", "'gable'"},
      {"traced wall", [](Site& s) { s.storeys[0].walls[0].construction.material = "brik"; },
       "/storeys/ground/walls/yard wall/material", "unknown material 'brik'", "'brick'"},
      {"leaf", [](Site& s) { s.storeys[0].openings[0].leaf.material = "laef"; },
       "/storeys/ground/openings/street door/leaf", "unknown material 'laef'", "'leaf'"},
      {"obstacle", [](Site& s) { s.storeys[0].obstacles[0].construction.material = "stel"; },
       "/storeys/ground/obstacles/kiln/material", "unknown material 'stel'", "'steel'"},
      {"floor", [](Site& s) { s.storeys[0].floor->material = "salb"; }, "/storeys/ground/floor/material",
       "unknown material 'salb'", "'slab'"},
      {"roof",
       [](Site& s) {
         s.storeys[0].roof = Construction{"zzzzzz", {}};
       },
       "/storeys/ground/roof/material", "unknown material 'zzzzzz'",
       "`linkmargin materials` lists the names"},
      {"air as a wall", [](Site& s) { s.storeys[0].walls[0].construction.material = kAir; },
       "/storeys/ground/walls/yard wall/material", "'air' serves only as a layer", "'none'"},
      {"no thickness", [](Site& s) { s.storeys[0].walls[0].construction.thickness_m.reset(); },
       "/storeys/ground/walls/yard wall/material",
       "'brick' is given by its electrical properties and needs a thickness_m"},
      {"no thickness of a leaf", [](Site& s) { s.storeys[0].openings[0].leaf.material = "brick"; },
       "/storeys/ground/openings/street door/leaf", "needs a leaf_thickness_m"},
      {"an unknown layer",
       [](Site& s) { std::get<BuildUp>(s.materials["gable"].kind).layers[2].material = "bric"; },
       "/materials/gable/layers/2/of", "unknown material 'bric'", "'brick'"},
      {"a layer without electrical properties",
       [](Site& s) { std::get<BuildUp>(s.materials["gable"].kind).layers[0].material = "steel"; },
       "/materials/gable/layers/0/of", "a layer needs electrical properties, which 'steel' does not have",
       "or air"},
      {"a material named none", [](Site& s) { s.materials["none"] = s.materials["steel"]; },
       "/materials/none", "cannot be named 'none'"},
  });
}

TEST_CASE("a build-up that nothing uses may name a material that the site gave a measured loss") {
  Site site = site_test::sound_site();
  std::get<BuildUp>(site.materials["gable"].kind).layers[0].material = "steel";
  site.storeys[0].boundaries[0].construction.material = "board";
  CHECK(validate(site).empty());
}

TEST_CASE("names in a path are escaped") {
  Site site = site_test::sound_site();
  site.storeys[0].name = "a/b~c";
  site.storeys[0].floor->material = "salb";
  const auto faults = validate(site);
  REQUIRE(faults.size() == 1);
  CHECK(faults[0].path == "/storeys/a~1b~0c/floor/material");
}

TEST_CASE("all faults are given at once") {
  Site site = site_test::sound_site();
  site.storeys[0].floor->material = "salb";
  site.storeys[0].openings[0].at = {2.5, 1};
  site.storeys[1].rooms.push_back({"store", rectangle({5, 3}, 4, 4)});
  site.devices[0].profile = "contct";
  site.reading.full = site.reading.zero;
  CHECK(validate(site).size() == 5);
}

TEST_CASE("ten thousand rooms on one spot are answered soon and shortly") {
  Site site = site_test::sound_site();
  for (int i = 0; i < 10'000; ++i)
    site.storeys[1].rooms.push_back({std::to_string(i), rectangle({0, 0}, 6, 4)});
  CHECK(validate(site).size() == 100);
}

TEST_CASE("floor openings that lie in the rooms at least in part are sound") {
  Site site = site_test::sound_site();
  site.storeys[1].floor_openings = {{"stairwell", rectangle({1, 1}, 1, 2)},
                                    {"bay", rectangle({5, 3}, 2, 2)},
                                    {"whole", rectangle({-1, -1}, 9, 9)}};
  CHECK(validate(site).empty());
}
