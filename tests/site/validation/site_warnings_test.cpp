#include "fixtures/sound_site.hpp"

using namespace linkmargin;

namespace {

/// The one caution of a site.
std::string only_warning(const Site& site) {
  REQUIRE(validate(site).empty());
  const auto warnings = site_warning_texts(site);
  for (const auto& warning : warnings) MESSAGE(warning);
  REQUIRE(warnings.size() == 1);
  return warnings.front();
}

}  // namespace

TEST_CASE("nothing odd, nothing said") {
  CHECK(site_warning_texts(site_test::sound_site()).empty());
}

TEST_CASE("a radio exactly on a wall's line: the side is the one that the predicates take") {
  struct Row {
    Point2 at;
    std::string wall;
    std::string side;
  };
  const Row rows[] = {
      {{6, 2}, "wall between 'shop' and 'workshop'", "in 'shop'"},  // smaller x
      {{6, 6}, "wall between 'workshop' and 'hall'", "in 'hall'"},
      {{0, 2}, "outer wall of 'shop'", "outside the rooms"},
      {{3, 0}, "outer wall of 'shop'", "in 'shop'"},  // greater y
      {{9, 8}, "outer wall of 'workshop'", "outside the rooms"},
      {{15, 8}, "traced wall 'yard wall'", "above it on the sheet"},
  };
  for (const Row& row : rows) {
    Site site = site_test::sound_site();
    site.devices[0].place.at = row.at;
    site.devices[0].may_move.reset();
    const std::string warning = only_warning(site);
    CHECK(site_test::holds(warning, "'contact' stands exactly on the line of the " + row.wall));
    CHECK(site_test::holds(warning, row.side));
    CHECK(site_test::holds(warning, "one centimetre"));
  }
}

TEST_CASE("a radio near a wall, past its end or on an open boundary is not on it") {
  for (const Point2 at : {Point2{6.01, 2}, Point2{20, 8}, Point2{3, 4}}) {
    Site site = site_test::sound_site();
    site.devices[0].place.at = snapped(at);
    site.devices[0].may_move.reset();
    CHECK(site_warning_texts(site).empty());
  }
}

TEST_CASE("names that look alike are cautioned, with what tells them apart") {
  Site site = site_test::sound_site();
  site.devices.push_back(site.devices[0]);
  site.devices[1].name = "Contact";
  CHECK(only_warning(site) == "'contact' and 'Contact' look alike: give one of them another name.");
  site.devices[1].name = "cont\u0430ct";
  CHECK(only_warning(site) ==
        "'contact' and 'cont\u0430ct' look alike (U+0061 and U+0430): give one of them another name.");
  site.devices[1].name = "cont act";
  CHECK(site_test::holds(only_warning(site), "look alike"));
  site.devices[1].name = "contact 2";
  CHECK(site_warning_texts(site).empty());
  site.devices[1].name = site.hubs[0].name + " ";
  CHECK(site_test::holds(only_warning(site), "look alike"));
}

TEST_CASE("a radio in an obstacle, and one far away") {
  Site site = site_test::sound_site();
  site.devices[0].may_move.reset();
  site.devices[0].place = {0, {10.5, 6.5}, 1.7};
  CHECK(site_test::holds(only_warning(site), "'contact' stands inside the obstacle 'kiln'"));
  site.devices[0].place.height_m = 1.8;  // on top of it
  CHECK(site_warning_texts(site).empty());
  site.devices[0].place = {0, {-149, 2}, 1.7};
  CHECK(site_warning_texts(site).empty());
  site.devices[0].place = {0, {-200, 2}, 1.7};
  CHECK(site_test::holds(only_warning(site), "'contact' stands 200 m from the nearest room"));
}

TEST_CASE("rooms drawn to the faces of their wall") {
  Site site = site_test::sound_site();
  site.storeys[0].rooms.push_back({"garage", rectangle({12.25, 1}, 4, 4), false, Construction{"slab", 0.2}});
  CHECK(site_test::holds(only_warning(site),
                         "The outer walls of 'workshop' and 'garage' run 0.25 m apart over 4.00 m"));
  site.storeys[0].rooms.back().corners = rectangle({12.5, 1}, 4, 4);
  CHECK(site_warning_texts(site).empty());
  site.storeys[0].rooms.back().corners = rectangle({12, 1}, 4, 4);  // one wall, shared
  CHECK(site_warning_texts(site).empty());
}

TEST_CASE("an exponent that the model does not use") {
  Site site = site_test::sound_site();
  site.radio.exponent = 2;
  CHECK(site_warning_texts(site).empty());
  site.radio.model = PathLossModel::free_space;
  CHECK(site_test::holds(only_warning(site), "exponent is not used"));
}

TEST_CASE("a floor opening where there is no floor, and a ground reflection that the model does not take") {
  Site site = site_test::sound_site();
  site.storeys[1].floor_openings = {{"stairwell", rectangle({1, 1}, 1, 2)}};
  CHECK(site_warning_texts(site).empty());
  site.storeys[1].floor = Construction{kNoMaterial, {}};
  CHECK(
      site_test::holds(site_warning_texts(site).front(), "Floor opening 'stairwell' is not used: storey 'upper'"));
  site = site_test::sound_site();
  site.radio.ground_reflection = true;
  CHECK(site_warning_texts(site).empty());
  site.radio.model = PathLossModel::log_distance;
  CHECK(site_test::holds(only_warning(site), "The ground reflection is not counted"));
}

TEST_CASE("a storey that does not begin where the one below ends with its slab") {
  // 0 m, 2.6 m clear and 0.2 m of slab: 2.8 m fits.
  for (const double level_m : {2.65, 2.8, 2.95}) {
    Site site = site_test::sound_site();
    site.storeys[1].level_m = level_m;
    CHECK(site_warning_texts(site).empty());
  }
  Site site = site_test::sound_site();
  site.storeys[1].level_m = 3.3;
  const std::string warning = only_warning(site);
  CHECK(site_test::holds(warning, "Storey 'upper' begins at 3.3 m"));
  CHECK(site_test::holds(
      warning, "the 0 m of 'ground', its clear height of 2.6 m and 0.2 m of slab over it make 2.8 m"));
  site.storeys[1].floor->thickness_m.reset();  // up to half a metre may be the slab
  site.storeys[1].level_m = 3.2;
  CHECK(site_warning_texts(site).empty());
  site.storeys[1].level_m = 3.4;
  CHECK(site_test::holds(only_warning(site), "a slab over it make at least 2.6 m"));
  site.storeys[1].rooms[0].corners = rectangle({30, 0}, 6, 4);  // over no room
  site.repeaters[0].place.at = {32, 2};
  CHECK(site_warning_texts(site).empty());
}

TEST_CASE("a level in centimetres is asked about, a tall hall is not") {
  Site site = site_test::sound_site();
  site.storeys[1].level_m = 265;
  const std::string warning = only_warning(site);
  CHECK(site_test::holds(warning, "Storey 'upper' begins 265 m over 'ground' below it"));
  CHECK(site_test::holds(warning, "If centimetres were meant, it is 2.65 m."));
  site.storeys[1].level_m = 28;
  CHECK_FALSE(site_test::holds(only_warning(site), "centimetres"));  // 0.28 m fits no better
  site.storeys[0].height_m = 12;
  site.storeys[1].level_m = 12.2;
  CHECK(site_warning_texts(site).empty());
}

TEST_CASE("a storey over rooms without a floor, unless that is said") {
  Site site = site_test::sound_site();
  site.storeys[1].floor.reset();
  CHECK(site_test::holds(only_warning(site),
                         "Storey 'upper' stands over rooms of 'ground' and has no `floor`"));
  site.storeys[1].floor = Construction{kNoMaterial, {}};
  CHECK(site_warning_texts(site).empty());
  site.storeys[0].floor.reset();  // nothing below it
  CHECK(site_warning_texts(site).empty());
}

TEST_CASE("built-in profiles far from their band, unless replaced") {
  Site site = site_test::sound_site();
  for (auto& [name, profile] : site.profiles) profile.built_in = true;
  for (const double frequency_hz : {860e6, 880e6}) {
    site.radio.frequency_hz = frequency_hz;
    CHECK(site_warning_texts(site).empty());
  }
  site.radio.frequency_hz = 433.92e6;
  CHECK(site_test::holds(only_warning(site),
                         "the site is at 433.92 MHz: give its own figures under `profiles` for "
                         "contact, fob, hub."));
  site.profiles.at("contact").built_in = false;
  CHECK(site_test::holds(only_warning(site), "for fob, hub."));
  for (auto& [name, profile] : site.profiles) profile.built_in = false;
  CHECK(site_warning_texts(site).empty());
}

TEST_CASE("a radio in no room, with walls nearly all round it, gets a caution; one beside a house does not") {
  // Rooms on three sides of a corridor that nobody drew, its end open.
  Site site = site_test::sound_site();
  Storey& storey = site.storeys[0];
  storey.rooms = {{"left", rectangle({0, 0}, 4, 12)}, {"right", rectangle({5.5, 0}, 4, 12)}, {"end", rectangle({4, 10}, 1.5, 2)}};
  storey.walls.clear();
  storey.openings.clear();
  storey.boundaries.clear();
  storey.obstacles.clear();
  const auto told = [&](Point2 at) {
    site.devices[0].place.at = at;
    const auto texts = site_warning_texts(site);
    return std::ranges::any_of(texts, [](const std::string& text) { return text.find("draw that as a room") != std::string::npos; });
  };
  CHECK(told({4.75, 6}));
  CHECK_FALSE(told({4.75, 0.2}));
  CHECK_FALSE(told({2, 6}));
  CHECK_FALSE(told({-2, 6}));
  CHECK_FALSE(told({4.75, 14}));
}

TEST_CASE("rooms with nothing over them are told where another storey lies higher, and once") {
  Site site = site_test::sound_site();  // with a storey over the shop alone
  for (Room& room : site.storeys[0].rooms) room.roof.reset();
  const std::string warning = only_warning(site);
  CHECK(site_test::holds(warning, "Nothing lies over 'workshop' and 'hall' of storey 'ground'"));
  for (Room& room : site.storeys[0].rooms) room.roof = Construction{kNoMaterial, {}};
  CHECK(site_warning_texts(site).empty());  // said to be open
  for (Room& room : site.storeys[0].rooms) room.roof.reset();
  site.storeys[0].roof = Construction{"slab", 0.2};
  CHECK(site_warning_texts(site).empty());
}

TEST_CASE("a site of one storey without a roof stays as it is; with a roof over one room the others are told") {
  Site site = site_test::sound_site();
  site.repeaters.clear();
  site.storeys.pop_back();
  for (Room& room : site.storeys[0].rooms) room.roof.reset();
  CHECK(site_warning_texts(site).empty());
  site.storeys[0].rooms[0].roof = Construction{"slab", 0.2};
  CHECK(site_test::holds(only_warning(site), "Nothing lies over 'workshop' and 'hall'"));
}

TEST_CASE("a material that is a layer alone and stands for a thing is told") {
  Site site = site_test::sound_site();
  site.materials.at("brick").use = {"layer"};
  const std::string warning = only_warning(site);
  CHECK(site_test::holds(warning, "'brick' is a layer for build-ups"));
  site.materials.at("brick").use = {"wall", "layer"};
  CHECK(site_warning_texts(site).empty());
}

TEST_CASE("what built-in profiles assume is told with its spread, until readings taught better") {
  Site site = site_test::sound_site();
  site.profiles.at("contact").built_in = true;
  CHECK(site_warning_texts(site).empty());
  site.profiles.at("contact").sigma_db = 3;
  CHECK(only_warning(site) ==
        "Built-in profiles stand for assumed devices, give or take 3 dB: put the data sheet's figures under "
        "`profiles` for contact.");
  site.calibration = Calibration{};
  CHECK(site_warning_texts(site).empty());
}
