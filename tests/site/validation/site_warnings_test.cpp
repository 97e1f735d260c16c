#include "fixtures/parts.hpp"
#include "fixtures/sound_site.hpp"
#include "fixtures/warnings.hpp"

using namespace linkmargin;
using fixture::argument;
using fixture::figure;
using fixture::name;
using fixture::outer_wall;
using fixture::wall_between;

namespace {

/// The one caution of a site.
Warning only_warning(const Site& site) {
  REQUIRE(validate(site).empty());
  const auto warnings = all_site_warnings(site);
  for (const auto& warning : warnings) MESSAGE(code_name(warning.code));
  REQUIRE(warnings.size() == 1);
  return warnings.front();
}

}  // namespace

TEST_CASE("nothing odd, nothing said") {
  CHECK(all_site_warnings(site_test::sound_site()).empty());
}

TEST_CASE("a radio exactly on a wall's line: the side is the one that the predicates take") {
  struct Row {
    Point2 at;
    PartName wall;
    WarningCode side;
    const char* room = "";
  };
  const Row rows[] = {
      {{6, 2}, wall_between("shop", "workshop"), WarningCode::on_wall_in_room, "shop"},  // smaller x
      {{6, 6}, wall_between("workshop", "hall"), WarningCode::on_wall_in_room, "hall"},
      {{0, 2}, outer_wall("shop"), WarningCode::on_wall_outside},
      {{3, 0}, outer_wall("shop"), WarningCode::on_wall_in_room, "shop"},  // greater y
      {{9, 8}, outer_wall("workshop"), WarningCode::on_wall_outside},
      {{15, 8}, fixture::traced_wall("yard wall"), WarningCode::on_traced_wall},
  };
  for (const Row& row : rows) {
    Site site = site_test::sound_site();
    site.devices[0].place.at = row.at;
    site.devices[0].may_move.reset();
    const Warning warning = only_warning(site);
    CHECK(warning.code == row.side);
    CHECK(warning.radio == "contact");
    CHECK(name(warning, "radio") == "contact");
    CHECK(argument<PartName>(warning, "wall") == row.wall);
    if (row.side == WarningCode::on_wall_in_room) CHECK(name(warning, "room") == row.room);
  }
}

TEST_CASE("a radio near a wall, past its end or on an open boundary is not on it") {
  for (const Point2 at : {Point2{6.01, 2}, Point2{20, 8}, Point2{3, 4}}) {
    Site site = site_test::sound_site();
    site.devices[0].place.at = snapped(at);
    site.devices[0].may_move.reset();
    CHECK(all_site_warnings(site).empty());
  }
}

TEST_CASE("names that look alike are cautioned, with what tells them apart") {
  Site site = site_test::sound_site();
  site.devices.push_back(site.devices[0]);
  site.devices[1].name = "Contact";
  CHECK(only_warning(site) ==
        Warning{.code = WarningCode::look_alike,
                .arguments = {{"first", Quoted{"contact"}}, {"second", Quoted{"Contact"}}},
                .radio = "Contact"});
  site.devices[1].name = "cont\u0430ct";
  CHECK(only_warning(site).code == WarningCode::look_alike_letters);
  CHECK(argument<std::string>(only_warning(site), "first_letter") == "U+0061");
  CHECK(argument<std::string>(only_warning(site), "second_letter") == "U+0430");
  site.devices[1].name = "cont act";
  CHECK(only_warning(site).code == WarningCode::look_alike);
  site.devices[1].name = "contact 2";
  CHECK(all_site_warnings(site).empty());
  site.devices[1].name = site.hubs[0].name + " ";
  CHECK(only_warning(site).code == WarningCode::look_alike);
}

TEST_CASE("a radio in an obstacle, and one far away") {
  Site site = site_test::sound_site();
  site.devices[0].may_move.reset();
  site.devices[0].place = {0, {10.5, 6.5}, 1.7};
  CHECK(only_warning(site).code == WarningCode::inside_obstacle);
  CHECK(name(only_warning(site), "obstacle") == "kiln");
  site.devices[0].place.height_m = 1.8;  // on top of it
  CHECK(all_site_warnings(site).empty());
  site.devices[0].place = {0, {-149, 2}, 1.7};
  CHECK(all_site_warnings(site).empty());
  site.devices[0].place = {0, {-200, 2}, 1.7};
  CHECK(only_warning(site).code == WarningCode::far_from_rooms);
  CHECK(fixture::length(only_warning(site), "distance") == 200);
}

TEST_CASE("rooms drawn to the faces of their wall") {
  Site site = site_test::sound_site();
  site.storeys[0].rooms.push_back({"garage", rectangle({12.25, 1}, 4, 4), false, Construction{"slab", 0.2}});
  const Warning warning = only_warning(site);
  CHECK(warning.code == WarningCode::walls_side_by_side);
  CHECK(name(warning, "first") == "workshop");
  CHECK(name(warning, "second") == "garage");
  CHECK(fixture::length(warning, "apart") == 0.25);
  CHECK(fixture::length(warning, "length") == 4);
  site.storeys[0].rooms.back().corners = rectangle({12.5, 1}, 4, 4);
  CHECK(all_site_warnings(site).empty());
  site.storeys[0].rooms.back().corners = rectangle({12, 1}, 4, 4);  // one wall, shared
  CHECK(all_site_warnings(site).empty());
}

TEST_CASE("an exponent that the model does not use") {
  Site site = site_test::sound_site();
  site.radio.exponent = 2;
  CHECK(all_site_warnings(site).empty());
  site.radio.model = PathLossModel::free_space;
  CHECK(only_warning(site).code == WarningCode::exponent_unused);
}

TEST_CASE("a floor opening where there is no floor, and a ground reflection that the model does not take") {
  Site site = site_test::sound_site();
  site.storeys[1].floor_openings = {{"stairwell", rectangle({1, 1}, 1, 2)}};
  CHECK(all_site_warnings(site).empty());
  site.storeys[1].floor = Construction{kNoMaterial, {}};
  CHECK(all_site_warnings(site).front().code == WarningCode::opening_without_floor);
  CHECK(name(all_site_warnings(site).front(), "opening") == "stairwell");
  site = site_test::sound_site();
  site.radio.ground_reflection = true;
  CHECK(all_site_warnings(site).empty());
  site.radio.model = PathLossModel::log_distance;
  CHECK(only_warning(site).code == WarningCode::ground_reflection_unused);
}

TEST_CASE("a storey that does not begin where the one below ends with its slab") {
  // 0 m, 2.6 m clear and 0.2 m of slab: 2.8 m fits.
  for (const double level_m : {2.65, 2.8, 2.95}) {
    Site site = site_test::sound_site();
    site.storeys[1].level_m = level_m;
    CHECK(all_site_warnings(site).empty());
  }
  Site site = site_test::sound_site();
  site.storeys[1].level_m = 3.3;
  const Warning warning = only_warning(site);
  CHECK(warning.code == WarningCode::storey_misfit);
  CHECK(warning.storeys == std::vector<std::string>{"ground", "upper"});
  CHECK(name(warning, "storey") == "upper");
  CHECK(name(warning, "below") == "ground");
  CHECK(fixture::length(warning, "level") == 3.3);
  CHECK(fixture::length(warning, "level_below") == 0);
  CHECK(fixture::length(warning, "clear") == 2.6);
  CHECK(fixture::length(warning, "slab") == 0.2);
  CHECK(fixture::length(warning, "sum") == 2.8);
  site.storeys[1].floor->thickness_m.reset();  // up to half a metre may be the slab
  site.storeys[1].level_m = 3.2;
  CHECK(all_site_warnings(site).empty());
  site.storeys[1].level_m = 3.4;
  CHECK(only_warning(site).code == WarningCode::storey_misfit_least);
  CHECK(fixture::length(only_warning(site), "sum") == 2.6);
  site.storeys[1].rooms[0].corners = rectangle({30, 0}, 6, 4);  // over no room
  site.repeaters[0].place.at = {32, 2};
  CHECK(all_site_warnings(site).empty());
}

TEST_CASE("a level in centimetres is asked about, a tall hall is not") {
  Site site = site_test::sound_site();
  site.storeys[1].level_m = 265;
  const Warning warning = only_warning(site);
  CHECK(warning.code == WarningCode::storey_jump_centimetres);
  CHECK(fixture::length(warning, "height") == 265);
  CHECK(fixture::length(warning, "metres") == 2.65);
  site.storeys[1].level_m = 28;
  CHECK(only_warning(site).code == WarningCode::storey_jump);  // 0.28 m fits no better
  site.storeys[0].height_m = 12;
  site.storeys[1].level_m = 12.2;
  CHECK(all_site_warnings(site).empty());
}

TEST_CASE("a storey over rooms without a floor, unless that is said") {
  Site site = site_test::sound_site();
  site.storeys[1].floor.reset();
  CHECK(only_warning(site).code == WarningCode::storey_without_floor);
  CHECK(name(only_warning(site), "storey") == "upper");
  site.storeys[1].floor = Construction{kNoMaterial, {}};
  CHECK(all_site_warnings(site).empty());
  site.storeys[0].floor.reset();  // nothing below it
  CHECK(all_site_warnings(site).empty());
}

TEST_CASE("what was learned of a radio that the site lacks") {
  Site site = site_test::sound_site();
  site.calibration = Calibration{};
  site.calibration->radios["contact"] = {.offset_db = -2, .sigma_db = 1};
  CHECK(all_site_warnings(site).empty());
  site.calibration->radios["gone"] = {.offset_db = -2, .sigma_db = 1};
  CHECK(only_warning(site).code == WarningCode::learned_of_no_radio);
  CHECK(name(only_warning(site), "radio") == "gone");
}

TEST_CASE("built-in profiles far from their band, unless replaced") {
  Site site = site_test::sound_site();
  site.region = Region::none;
  for (auto& [name, profile] : site.profiles) profile.built_in = true;
  for (const double frequency_hz : {860e6, 880e6}) {
    site.radio.frequency_hz = frequency_hz;
    CHECK(all_site_warnings(site).empty());
  }
  site.radio.frequency_hz = 433.92e6;
  const Warning warning = only_warning(site);
  CHECK(warning.code == WarningCode::profiles_of_other_band);
  CHECK(figure(warning, "frequency") == 433.92);
  CHECK(argument<NameList>(warning, "profiles").names == std::vector<std::string>{"contact", "fob", "hub"});
  site.profiles.at("contact").built_in = false;
  CHECK(argument<NameList>(only_warning(site), "profiles").names == std::vector<std::string>{"fob", "hub"});
  for (auto& [name, profile] : site.profiles) profile.built_in = false;
  CHECK(all_site_warnings(site).empty());
}

TEST_CASE("a radio in no room, with walls nearly all round it, gets a caution; one beside a house does not") {
  // Rooms on three sides of a corridor that nobody drew, its end open.
  Site site = site_test::sound_site();
  Storey& storey = site.storeys[0];
  storey.rooms = {{"left", rectangle({0, 0}, 4, 12)},
                  {"right", rectangle({5.5, 0}, 4, 12)},
                  {"end", rectangle({4, 10}, 1.5, 2)}};
  storey.walls.clear();
  storey.openings.clear();
  storey.boundaries.clear();
  storey.obstacles.clear();
  const auto told = [&](Point2 at) {
    site.devices[0].place.at = at;
    return fixture::has(all_site_warnings(site), WarningCode::in_no_room);
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
  const Warning warning = only_warning(site);
  CHECK(warning.code == WarningCode::nothing_over_rooms);
  CHECK(argument<QuotedList>(warning, "rooms").names == std::vector<std::string>{"workshop", "hall"});
  CHECK(name(warning, "storey") == "ground");
  for (Room& room : site.storeys[0].rooms) room.roof = Construction{kNoMaterial, {}};
  CHECK(all_site_warnings(site).empty());  // said to be open
  for (Room& room : site.storeys[0].rooms) room.roof.reset();
  site.storeys[0].roof = Construction{"slab", 0.2};
  CHECK(all_site_warnings(site).empty());
}

TEST_CASE("a roof beside rooms of the storey above is told, unless the room says it") {
  Site site = site_test::sound_site();
  site.repeaters.clear();
  Storey& ground = site.storeys[0];
  Storey& upper = site.storeys[1];
  const auto shape = [](const char* name, double x, double y, double width_m, double depth_m) {
    return Room{.name = name, .corners = rectangle({x, y}, width_m, depth_m)};
  };
  ground.rooms = {shape("hall", 0, 0, 2, 4), shape("shop", 2, 0, 6, 4)};
  ground.openings.clear();
  ground.boundaries.clear();
  ground.roof = Construction{"slab", 0.2};
  // The landing leaves the front of the hall free, within the outline of the storey.
  upper.rooms = {shape("landing", 0, 1, 2, 3), shape("bedroom", 2, 0, 6, 4)};
  upper.openings.clear();
  upper.boundaries.clear();
  const auto told = [&] {
    const auto warnings = site_warnings(site);
    const auto found = std::ranges::find(warnings, WarningCode::roof_beside_rooms, &Warning::code);
    return found == warnings.end() ? std::optional<Warning>() : std::optional(*found);
  };
  const auto warning = told();
  REQUIRE(warning);
  CHECK(argument<QuotedList>(*warning, "rooms").names == std::vector<std::string>{"hall"});
  CHECK(argument<Figure>(*warning, "open").value == doctest::Approx(2));
  CHECK(name(*warning, "above") == upper.name);
  ground.rooms[0].roof = Construction{"slab", 0.2};  // said: it is meant
  CHECK_FALSE(told());
  ground.rooms[0].roof.reset();
  upper.rooms[0] = shape("landing", 0, 0.4, 2, 3.6);  // a strip of 0.8 m2 is a wall that stands aside
  CHECK_FALSE(told());
  upper.rooms = {shape("bedroom", 2, 0, 6, 4)};  // the hall is all outside the storey above
  CHECK_FALSE(told());
}

TEST_CASE("what stands apart with the floor and the roof of the house is told") {
  Site site = site_test::sound_site();
  site.repeaters.clear();
  site.storeys.pop_back();
  Storey& ground = site.storeys[0];
  ground.rooms = {{"hall", rectangle({0, 0}, 2, 4)},
                  {"shop", rectangle({2, 0}, 6, 4)},
                  {"garage", rectangle({12, 0}, 3, 6)}};
  ground.openings.clear();
  ground.boundaries.clear();
  ground.floor = Construction{"slab", 0.2};
  ground.roof = Construction{"slab", 0.1};
  const auto told = [&] {
    std::vector<std::string> rooms;
    for (const Warning& warning : site_warnings(site)) {
      if (warning.code == WarningCode::apart_like_house) rooms.push_back(name(warning, "room"));
    }
    return rooms;
  };
  CHECK(told() == std::vector<std::string>{"garage"});
  ground.rooms[2].roof = Construction{"slab", 0.2};
  CHECK(told().empty());
  ground.rooms[2].roof.reset();
  ground.rooms.erase(ground.rooms.begin());  // nothing shares a wall: no house that it stands apart from
  CHECK(told().empty());
}

TEST_CASE(
    "a site of one storey without a roof stays as it is; with a roof over one room the others are told") {
  Site site = site_test::sound_site();
  site.repeaters.clear();
  site.storeys.pop_back();
  for (Room& room : site.storeys[0].rooms) room.roof.reset();
  CHECK(all_site_warnings(site).empty());
  site.storeys[0].rooms[0].roof = Construction{"slab", 0.2};
  CHECK(argument<QuotedList>(only_warning(site), "rooms").names ==
        std::vector<std::string>{"workshop", "hall"});
}

TEST_CASE("a material that is a layer alone and stands for a thing is told") {
  Site site = site_test::sound_site();
  site.materials.at("brick").use = {"layer"};
  const Warning warning = only_warning(site);
  CHECK(warning.code == WarningCode::layer_alone);
  CHECK(name(warning, "material") == "brick");
  CHECK(!argument<PartList>(warning, "parts").parts.empty());
  site.materials.at("brick").use = {"wall", "layer"};
  CHECK(all_site_warnings(site).empty());
}

TEST_CASE("what built-in profiles assume is told with its spread, until readings taught better") {
  Site site = site_test::sound_site();
  site.profiles.at("contact").built_in = true;
  CHECK(all_site_warnings(site).empty());
  site.profiles.at("contact").sigma_db = 3;
  CHECK(only_warning(site) ==
        Warning{.code = WarningCode::assumed_profiles,
                .arguments = {{"sigma", Figure{3}}, {"profiles", NameList{{"contact"}}}}});
  site.calibration = Calibration{};
  CHECK(all_site_warnings(site).empty());
}

TEST_CASE(
    "an indoor kind in no room and on no wall is cautioned, an outdoor kind and one on a wall are not") {
  Site site = site_test::sound_site();
  site_test::add_profile(site, "motion");
  site.devices[0].profile = "motion";
  site.devices[0].may_move.reset();
  site.devices[0].place = {0, {60, 3}, 2.2};
  const Warning warning = only_warning(site);
  CHECK(warning.code == WarningCode::indoors_outside);
  CHECK(warning.radio == "contact");
  CHECK(name(warning, "storey") == "ground");
  CHECK(fixture::length(warning, "distance") == 48);
  site.devices[0].place.at = {12.2, 3};  // outside, on the wall of the workshop
  CHECK(all_site_warnings(site).empty());
  site.devices[0].place.at = {200, 3};  // told as far away
  CHECK(only_warning(site).code == WarningCode::far_from_rooms);
  site_test::add_profile(site, "outdoor motion");
  site.devices[0].profile = "outdoor motion";
  site.devices[0].place.at = {60, 3};
  CHECK(all_site_warnings(site).empty());
  site_test::add_profile(site, "detector").mounted_on = MountingSurface::ceiling;  // whatever it is called
  site.devices[0].profile = "detector";
  CHECK(only_warning(site).code == WarningCode::indoors_outside);
}

TEST_CASE("a detector of the ceiling far under it") {
  Site site = site_test::sound_site();
  site_test::add_profile(site, "smoke").mounted_on = MountingSurface::ceiling;
  site.devices[0].profile = "smoke";
  site.devices[0].may_move.reset();
  site.devices[0].place = {0, {1, 2}, 1};
  const Warning warning = only_warning(site);
  CHECK(warning.code == WarningCode::far_below_ceiling);
  CHECK(fixture::length(warning, "distance") == doctest::Approx(1.6));
  CHECK(name(warning, "room") == "shop");
  site.devices[0].place.height_m = 2.0;
  CHECK(all_site_warnings(site).empty());
}

TEST_CASE("a radio across a door or window, and none beside, above or on its frame") {
  Site site = site_test::sound_site();
  site.devices[0].may_move.reset();
  site.devices[0].place = {0, {2.5, 0.15}, 1.5};
  const Warning warning = only_warning(site);
  CHECK(warning.code == WarningCode::across_opening);
  CHECK(name(warning, "opening") == "street door");
  site.devices[0].place.at = {2.5, -0.15};  // from outside as well
  CHECK(only_warning(site).code == WarningCode::across_opening);
  site.devices[0].place = {0, {2.5, 0.15}, 2.2};
  CHECK(all_site_warnings(site).empty());
  site.devices[0].place = {0, {2.0, 0.15}, 1.5};
  CHECK(all_site_warnings(site).empty());
  site.devices[0].place = {0, {2.5, 0.15}, 1.5};
  site.profiles["contact"].mounted_on = MountingSurface::frame;
  CHECK(all_site_warnings(site).empty());
}

TEST_CASE("a contact that may move off its frame") {
  Site site = site_test::sound_site();
  site.profiles["contact"].mounted_on = MountingSurface::frame;
  site.devices[0].may_move = Mobility{Mobility::Radius{15}};
  const Warning warning = only_warning(site);
  CHECK(warning.code == WarningCode::moves_off_frame);
  CHECK(fixture::length(warning, "radius") == 15);
  site.devices[0].may_move = Mobility{Mobility::Radius{2}};
  CHECK(all_site_warnings(site).empty());
}

TEST_CASE("sizes that a slip of the decimal point makes") {
  Site tall = site_test::sound_site();
  tall.storeys[1].height_m = 25;
  CHECK(only_warning(tall).code == WarningCode::storey_tall);
  CHECK(fixture::length(only_warning(tall), "height") == 25);
  tall.storeys[1].height_m = 12;
  CHECK(all_site_warnings(tall).empty());

  Site thick = site_test::sound_site();
  thick.storeys[0].outer_wall.thickness_m = 3;
  const Warning wall = only_warning(thick);
  CHECK(wall.code == WarningCode::wall_thick);
  CHECK(fixture::length(wall, "thickness") == 3);
  CHECK(argument<PartList>(wall, "parts").parts ==
        std::vector<PartName>{{.kind = PartKind::outer_walls, .first = "ground"}});
  thick.storeys[0].outer_wall.thickness_m = 1;
  CHECK(all_site_warnings(thick).empty());
}

TEST_CASE("a room far longer than the others, and one far from them") {
  const auto with_room = [](Polygon2 corners) {
    Site site = site_test::block(3, 2);
    site.storeys.resize(1);
    site.storeys[0].floor.reset();
    site.repeaters.clear();
    site.devices[0].may_move.reset();
    site.storeys[0].rooms.push_back({"long", std::move(corners)});
    return site;
  };
  const Warning warning = only_warning(with_room(rectangle({9, 0}, 26, 4)));
  CHECK(warning.code == WarningCode::room_long);
  CHECK(name(warning, "room") == "long");
  CHECK(fixture::length(warning, "length") == 26);
  CHECK(fixture::length(warning, "usual") == 4);
  CHECK(all_site_warnings(with_room(rectangle({9, 0}, 12, 4))).empty());
  CHECK(all_site_warnings(with_room(rectangle({9, 0}, 26, 2))).empty());   // a corridor
  CHECK(all_site_warnings(with_room(rectangle({9, 0}, 26, 20))).empty());  // a hall
  Site corridor = with_room(rectangle({0, 8}, 26, 4));                     // along three rooms
  CHECK(only_warning(corridor).code == WarningCode::room_long);
  for (const double x : {9.0, 12.0, 15.0})
    corridor.storeys[0].rooms.push_back({"room " + std::to_string(x), rectangle({x, 4}, 3, 4)});
  CHECK(all_site_warnings(corridor).empty());
  const Warning far = only_warning(with_room(rectangle({95, 0}, 3, 4)));
  CHECK(far.code == WarningCode::room_far_apart);
  CHECK(fixture::length(far, "distance") == 86);
  CHECK(all_site_warnings(with_room(rectangle({55, 0}, 3, 4))).empty());
}

TEST_CASE("a threshold so low that it is a slip") {
  Site site = site_test::sound_site();
  for (const auto& [percent, meant] : {std::pair{0.4, 40.0}, {4.0, 40.0}, {9.0, 90.0}}) {
    site.reading.weak_below_percent = percent;
    const Warning warning = only_warning(site);
    CHECK(warning.code == WarningCode::threshold_low);
    CHECK(fixture::figure(warning, "threshold") == percent);
    CHECK(fixture::figure(warning, "meant") == doctest::Approx(meant));
  }
  site.reading.weak_below_percent = 0;
  CHECK(only_warning(site).code == WarningCode::threshold_none);
  site.reading.weak_below_percent = 10;
  CHECK(all_site_warnings(site).empty());
}
