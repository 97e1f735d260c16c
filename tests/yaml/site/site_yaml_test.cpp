#include "linkmargin/yaml/site/site_yaml.hpp"

#include "linkmargin/yaml/tree/text_file.hpp"

#include "fixtures/fault_lines.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;

namespace {

/// tests/yaml/every_key.yaml, read once.
const Site& every_key() {
  static const Site site = [] {
    const auto text = read_text_file(LINKMARGIN_TEST_DATA "/yaml/every_key.yaml");
    REQUIRE(text);
    auto result = parse_site(*text, "every_key.yaml", embedded_tables());
    REQUIRE(fault_lines(result) == "");
    return std::move(result.value());
  }();
  return site;
}

Point2 at(double x, double y) {
  return snapped(Point2{x, y});
}

template <typename Kind>
const Kind& material(const std::string& name) {
  const auto found = every_key().materials.find(name);
  REQUIRE(found != every_key().materials.end());
  CHECK(found->second.name == name);
  REQUIRE(std::holds_alternative<Kind>(found->second.kind));
  return std::get<Kind>(found->second.kind);
}

}  // namespace

TEST_CASE("the top, the radio and the reading are read field by field") {
  const Site& site = every_key();
  CHECK(site.name == "Every key");
  CHECK(site.note == "read by a test");
  CHECK(site.radio.frequency_hz == 433.92e6);
  CHECK(site.radio.model == PathLossModel::site_general);
  CHECK(site.radio.exponent == 2.4);
  CHECK(site.radio.building_type == "residential");
  CHECK(site.radio.form == SiteGeneralForm::power_loss);
  CHECK(site.radio.constant_loss_db == 0);
  CHECK(site.radio.model_sigma_db == 4.5);
  CHECK_FALSE(site.radio.diffraction);
  CHECK_FALSE(site.radio.reverberation);
  CHECK(site.radio.surroundings == Surroundings::open);
  CHECK(site.radio.street_m == 35);
  CHECK(site.radio.noise == NoiseArea::business);
  CHECK(site.radio.noise_rise_db == 3.5);
  CHECK(site.radio.ground_reflection);
  CHECK(site.reading.zero == Dbm{-110});
  CHECK(site.reading.full == Dbm{-60});
  CHECK(site.reading.weak_below_percent == 35);
}

TEST_CASE("what readings taught is read field by field") {
  Calibration expected;
  expected.offset_db = -3.4;
  expected.offset_sigma_db = 1.25;
  expected.exponent_sigma = 0.15;
  expected.zero_sigma_db = 2;
  expected.full_sigma_db = 2.5;
  expected.readings = 24;
  expected.materials = {{"brick", {2.1, 0.9, 7}}, {"one loss", {-1, 0, 0}}};
  expected.correlations = {{"/calibration/offset_db", "/radio/exponent", -0.62},
                           {"/calibration/materials/one loss/shift_db", "/reading/full_dbm", 0.25}};
  REQUIRE(every_key().calibration);
  CHECK(*every_key().calibration == expected);
  const auto none = parse_site(starter_text(), "starter.yaml", embedded_tables());
  REQUIRE(none);
  CHECK_FALSE(none->calibration);
}

TEST_CASE("fading is read field by field, or is a switch") {
  const Fading& fading = every_key().fading;
  CHECK(fading.on);
  CHECK(fading.k_in_sight_db == 9.5);
  CHECK(fading.k_behind_walls_db == -1);
  CHECK(fading.k_over_time_db == 11);
  CHECK_FALSE(fading.in_space);
  const auto read = [](const std::string& line) {
    const auto site = parse_site("site: s\nradio: {frequency_mhz: 868}\n" + line +
                                     "storeys: [{name: g, level_m: 0, height_m: 2}]\n"
                                     "hubs: {hub: {profile: hub, storey: g, at_m: [1, 1], height_m: 1}}\n",
                                 "s.yaml", embedded_tables());
    REQUIRE(fault_lines(site) == "");
    return site.value().fading;
  };
  CHECK_FALSE(read("fading: off\n").on);
  const Fading usual;
  for (const char* line : {"", "fading: on\n", "fading: {scattering: space}\n"}) {
    const Fading taken = read(line);
    CHECK(taken.on);
    CHECK(taken.k_in_sight_db == usual.k_in_sight_db);
    CHECK(taken.k_behind_walls_db == usual.k_behind_walls_db);
    CHECK(taken.k_over_time_db == usual.k_over_time_db);
    CHECK(taken.in_space);
  }
}

TEST_CASE("materials of every kind stand beside the embedded table and replace by name") {
  const Site& site = every_key();
  CHECK(site.materials.size() == embedded_tables().materials.size() + 5);  // brick replaces

  CHECK(material<MeasuredLoss>("one loss").points.size() == 1);
  CHECK(material<MeasuredLoss>("one loss").points[0].loss_db == 30);
  CHECK(material<MeasuredLoss>("one loss").points[0].frequency_hz == 0);
  CHECK(site.materials.at("one loss").sigma_db == 6);
  CHECK(site.materials.at("one loss").source == "guessed on site");

  CHECK(material<MeasuredLoss>("at a frequency").points[0].frequency_hz == 868e6);
  const Material& at_a_frequency = site.materials.at("at a frequency");
  CHECK(at_a_frequency.sigma_db == 3);
  CHECK(at_a_frequency.use == std::vector<std::string>{"wall", "door"});
  CHECK(at_a_frequency.verified == "from memory");
  CHECK(at_a_frequency.note == "a note");
  CHECK(at_a_frequency.leakage_db == 35);
  CHECK_FALSE(site.materials.at("one loss").leakage_db);
  CHECK(at_a_frequency.reflects_percent == 80);
  CHECK_FALSE(site.materials.at("one loss").reflects_percent);

  const auto& points = material<MeasuredLoss>("two losses").points;
  REQUIRE(points.size() == 2);
  CHECK(points[0].frequency_hz == 500e6);  // by rising frequency, whatever the file says
  CHECK(points[0].loss_db == 2);
  CHECK(points[1].frequency_hz == 2000e6);
  CHECK(points[1].loss_db == 4);

  const auto& stuff = material<ElectricalProperties>("stuff");
  CHECK(stuff.a == 5.24);
  CHECK(stuff.b == -0.1);
  CHECK(stuff.c == 0.0462);
  CHECK(stuff.d == 0.7822);
  CHECK(stuff.min_frequency_hz == 1e9);
  CHECK(stuff.max_frequency_hz == 1e11);
  CHECK(material<ElectricalProperties>("brick").a == 4);

  const auto& layers = material<BuildUp>("sandwich").layers;
  REQUIRE(layers.size() == 3);
  CHECK(layers[0].material == "stuff");
  CHECK(layers[0].thickness_m == 0.0125);
  CHECK(layers[1].material == kAir);
  CHECK(layers[2].thickness_m == 0.22);
}

TEST_CASE("profiles are read field by field") {
  const ProfileTable& profiles = every_key().profiles;
  CHECK(profiles.size() == embedded_tables().profiles.size() + 4);
  const Profile& radiated = profiles.at("radiated");
  CHECK(radiated.name == "radiated");
  REQUIRE(radiated.transmit);
  CHECK(radiated.transmit->kind == TransmitPower::Kind::erp);
  CHECK(radiated.transmit->value == Dbm{10});
  CHECK(radiated.gain_dbi == -3);
  CHECK(std::get<Dbm>(radiated.sensitivity) == Dbm{-105});
  CHECK(radiated.two_way);
  CHECK(radiated.mount_loss_db == 2);
  CHECK(radiated.body_loss_db == 1.5);
  CHECK(radiated.device_class == "fobs");
  CHECK(radiated.fixed_by_rule);
  CHECK(radiated.source == "data sheet");
  CHECK(radiated.note == "invented");

  const Profile& isotropic = profiles.at("isotropic");
  CHECK(isotropic.transmit->kind == TransmitPower::Kind::eirp);
  CHECK(isotropic.transmit->value == Dbm{12.15});
  CHECK(std::holds_alternative<std::monostate>(isotropic.sensitivity));
  CHECK_FALSE(isotropic.two_way);
  CHECK_FALSE(isotropic.fixed_by_rule);
  CHECK(isotropic.device_class == "");
  CHECK(profiles.at("conducted").transmit->kind == TransmitPower::Kind::conducted);
  CHECK(profiles.at("conducted").gain_dbi == -1.5);

  const Profile& noisy = profiles.at("noisy");
  CHECK_FALSE(noisy.transmit);
  CHECK(noisy.gain_dbi == 0);
  CHECK(std::get<ReceiverNoise>(noisy.sensitivity).bandwidth_hz == 125e3);
  CHECK(std::get<ReceiverNoise>(noisy.sensitivity).noise_figure_db == 6);
  CHECK(std::get<ReceiverNoise>(noisy.sensitivity).required_snr_db == -7.5);
}

TEST_CASE("storeys, rooms, boundaries and walls are read field by field") {
  REQUIRE(every_key().storeys.size() == 2);
  const Storey& ground = every_key().storeys[0];
  CHECK(ground.name == "ground");
  CHECK(ground.level_m == 0.5);
  CHECK(ground.height_m == 2.6);
  REQUIRE(ground.floor);
  CHECK(ground.floor->material == "stuff");
  CHECK(ground.floor->thickness_m == 0.2);
  CHECK_FALSE(ground.roof);
  CHECK(ground.outer_wall.material == "brick");
  CHECK(ground.outer_wall.thickness_m == 0.24);
  CHECK(ground.inner_wall.material == "one loss");
  CHECK_FALSE(ground.inner_wall.thickness_m);
  REQUIRE(ground.rooms.size() == 2);
  CHECK(ground.rooms[0].name == "shop");
  CHECK(ground.rooms[0].keep_out);
  CHECK(!ground.rooms[1].keep_out);
  CHECK(ground.rooms[0].use == RoomUse::wet);
  CHECK(ground.rooms[1].use == RoomUse::unstated);
  CHECK(ground.rooms[0].sockets == std::vector<Socket>{WallSpot{SheetSide::left, SheetSide::bottom, 0.4}});
  CHECK(ground.rooms[1].sockets ==
        std::vector<Socket>{WallSpot{SheetSide::top, SheetSide::right, 2}, at(6, 1)});
  CHECK(every_key().profiles.at("radiated").mounted_on == MountingSurface::ceiling);
  CHECK(every_key().profiles.at("noisy").mounted_on == MountingSurface::wall);
  CHECK_FALSE(ground.rooms[0].roof);
  CHECK(ground.rooms[1].roof == Construction{"stuff", 0.15});
  CHECK(every_key().region == Region::us);
  CHECK(every_key().profiles.at("radiated").sigma_db == 2.5);
  CHECK(every_key().profiles.at("radiated").reserve_db == 10);
  CHECK(every_key().profiles.at("conducted").sigma_db == 0);
  CHECK(every_key().profiles.at("conducted").reserve_db == 0);
  CHECK(ground.rooms[0].corners == Polygon2{at(0, 0), at(6, 0), at(6, 4), at(0, 4)});
  CHECK(ground.rooms[1].name == "workshop");
  CHECK(ground.rooms[1].corners == Polygon2{at(6, 0), at(12, 0), at(12, 8), at(6, 8)});
  REQUIRE(ground.boundaries.size() == 2);
  CHECK(ground.boundaries[0].first == "workshop");  // the room first, whatever the file says
  CHECK(ground.boundaries[0].second == "outside");
  CHECK(ground.boundaries[0].construction.material == "sandwich");
  CHECK(ground.boundaries[1].first == "shop");
  CHECK(ground.boundaries[1].second == "workshop");
  CHECK(ground.boundaries[1].construction.thickness_m == 0.4);
  REQUIRE(ground.walls.size() == 2);
  CHECK(ground.walls[0].name == "yard wall");
  CHECK(ground.walls[0].line == Segment2{at(12, 8), at(18, 8)});
  CHECK(ground.walls[0].construction.material == "brick");
  CHECK(ground.walls[0].construction.thickness_m == 0.22);
  CHECK(ground.walls[0].height_m == 1.8);
  CHECK(ground.walls[1].construction.material == kNoMaterial);
  CHECK_FALSE(ground.walls[1].height_m);
  const Storey& upper = every_key().storeys[1];
  CHECK(upper.name == "upper");
  CHECK_FALSE(upper.floor);
  CHECK(upper.roof->material == "two losses");
  CHECK(upper.outer_wall.material == "");
  CHECK(upper.inner_wall.material == "");
  CHECK(upper.rooms.empty());
}

TEST_CASE("openings, obstacles and floor openings are read field by field") {
  const Storey& ground = every_key().storeys[0];
  REQUIRE(ground.openings.size() == 2);
  const Opening& door = ground.openings[0];
  CHECK(door.name == "street door");
  CHECK(door.first == "shop");
  CHECK(door.second == "outside");
  CHECK(door.wall == "");
  CHECK(door.at == at(2.5, 0));
  CHECK(door.width_m == 0.9);
  CHECK(door.sill_m == 0.1);
  CHECK(door.height_m == 2);
  CHECK(door.leaf.material == "stuff");
  CHECK(door.leaf.thickness_m == 0.04);
  CHECK(door.opens);
  const Opening& gate = ground.openings[1];
  CHECK(gate.first == "");
  CHECK(gate.wall == "yard wall");
  CHECK(gate.sill_m == 0);
  CHECK(gate.leaf.material == kNoMaterial);
  CHECK_FALSE(gate.leaf.thickness_m);
  CHECK_FALSE(gate.opens);
  REQUIRE(ground.obstacles.size() == 2);
  const Obstacle& kiln = ground.obstacles[0];
  CHECK(kiln.name == "kiln");
  CHECK(kiln.corners == Polygon2{at(10, 6), at(11.2, 6), at(11.2, 7.2), at(10, 7.2)});
  CHECK(kiln.base_m == 0.1);
  CHECK(kiln.height_m == 1.8);
  CHECK(kiln.construction.material == "one loss");
  const Obstacle& rack = ground.obstacles[1];
  CHECK(rack.corners == Polygon2{at(7, 1), at(8, 1), at(7, 2)});
  CHECK(rack.base_m == 0);
  CHECK(rack.construction.thickness_m == 0.3);
  REQUIRE(ground.floor_openings.size() == 2);
  CHECK(ground.floor_openings[0].name == "stairwell");
  CHECK(ground.floor_openings[0].corners == Polygon2{at(1, 1), at(2, 1), at(2, 3.5), at(1, 3.5)});
  CHECK(ground.floor_openings[1].name == "shaft");
  CHECK(ground.floor_openings[1].corners == Polygon2{at(8, 2), at(9, 2), at(9, 3)});
  CHECK(every_key().storeys[1].floor_openings.empty());
}

TEST_CASE("hubs, repeaters and areas are read field by field") {
  const Site& site = every_key();
  REQUIRE(site.hubs.size() == 2);
  CHECK(site.hubs[0].name == "hub");
  CHECK(site.hubs[0].profile == "noisy");
  CHECK(site.hubs[0].place.storey == 0);
  CHECK(site.hubs[0].place.at == at(5.8, 3.9));
  CHECK(site.hubs[0].place.height_m == 2.1);
  CHECK(site.hubs[0].capacity->total == 40);
  CHECK(site.hubs[0].capacity->by_class.empty());
  CHECK(site.hubs[0].cable_m == 2);
  CHECK(site.hubs[1].cable_m == kUsualCableM);
  CHECK(site.hubs[0].fixed);
  CHECK(!site.hubs[1].fixed);
  CHECK_FALSE(site.hubs[0].may_move);
  REQUIRE(site.hubs[0].mount);
  CHECK(site.hubs[0].mount->on == Mount::On::metal);
  CHECK(site.hubs[0].mount->gap_m == 0.05);
  CHECK_FALSE(site.hubs[0].mount->faces_deg);
  CHECK_FALSE(site.hubs[1].mount);
  CHECK(site.hubs[1].place.storey == 1);
  CHECK_FALSE(site.hubs[1].capacity->total);
  CHECK(site.hubs[1].capacity->by_class == std::map<std::string, int>{{"fobs", 8}, {"others", 32}});
  CHECK(std::get<Mobility::Within>(site.hubs[1].may_move->reach).corners ==
        Polygon2{at(0, 0), at(2, 0), at(2, 2), at(0, 2)});
  REQUIRE(site.repeaters.size() == 1);
  CHECK(site.repeaters[0].name == "landing");
  CHECK(site.repeaters[0].profile == "radiated");
  CHECK(site.repeaters[0].place.storey == 1);
  CHECK(site.repeaters[0].cable_m == 0.5);
  CHECK(site.repeaters[0].fixed);
  REQUIRE(site.repeaters[0].mount);
  CHECK(site.repeaters[0].mount->gap_m == 0.1);
  CHECK(site.repeaters[0].mount->faces_deg == -45);
  CHECK(std::get<Mobility::Radius>(site.repeaters[0].may_move->reach).radius_m == 1);
  REQUIRE(site.areas.size() == 2);
  CHECK(site.areas[0].name == "drive");
  CHECK(site.areas[0].profile == "radiated");
  CHECK(site.areas[0].storey == 0);
  CHECK(site.areas[0].corners == Polygon2{at(-6, -5), at(6, -5), at(6, -1)});
  CHECK(site.areas[0].height_m == 1.2);
  CHECK(site.areas[0].share_percent == 90);
  CHECK(site.areas[0].slots == 3);
  CHECK(site.areas[0].hub == "hub");
  CHECK(site.areas[1].height_m == 1);
  CHECK(site.areas[1].share_percent == 95);
  CHECK(site.areas[1].slots == 1);
  CHECK_FALSE(site.areas[1].hub);
}

TEST_CASE("devices are read field by field, in the order of the file") {
  const std::vector<Device>& devices = every_key().devices;
  REQUIRE(devices.size() == 3);
  const Device& zebra = devices[0];
  CHECK(zebra.name == "zebra");
  CHECK(zebra.profile == "radiated");
  CHECK(zebra.place.storey == 0);
  CHECK(zebra.place.at == at(2, 0.1));  // 2.00005 is on the grid line of 2
  CHECK(zebra.place.height_m == 2);
  CHECK(zebra.slots == 2);
  CHECK(zebra.hub == "second");
  CHECK(std::get<Mobility::Radius>(zebra.may_move->reach).radius_m == 0.15);
  CHECK(zebra.mount_loss_db == 3);
  CHECK(zebra.body_loss_db == 4);
  CHECK(zebra.note == "first in the file");
  REQUIRE(zebra.mount);
  CHECK(zebra.mount->gap_m == 0.02);
  CHECK(zebra.mount->faces_deg == 90);
  const Device& apple = devices[1];
  CHECK(apple.name == "apple");
  CHECK(apple.slots == 1);
  CHECK_FALSE(apple.hub);
  CHECK_FALSE(apple.mount_loss_db);
  CHECK_FALSE(apple.body_loss_db);
  CHECK_FALSE(apple.mount);
  CHECK(std::get<Mobility::Along>(apple.may_move->reach).line ==
        std::vector<Point2>{at(6.2, 4.2), at(11.8, 4.2)});
  CHECK(devices[2].name == "mango");
  CHECK(std::get<Mobility::WithinRoom>(devices[2].may_move->reach).room == "shop");
}

TEST_CASE("what is left out takes its documented default") {
  constexpr const char* small = R"(site: S
radio: {frequency_mhz: 868.3}
storeys: [{name: g, level_m: 0, height_m: 3}]
hubs: {h: {profile: hub, storey: g, at_m: [0, 0], height_m: 1}}
)";
  const auto site = parse_site(small, "s.yaml", embedded_tables());
  REQUIRE(fault_lines(site) == "");
  CHECK(site->radio.model == PathLossModel::walls);
  CHECK_FALSE(site->radio.exponent);
  CHECK_FALSE(site->radio.model_sigma_db);
  CHECK(site->radio.diffraction);
  CHECK(site->radio.reverberation);
  CHECK(site->radio.noise == NoiseArea::none);
  CHECK(site->radio.noise_rise_db == 0);
  CHECK_FALSE(site->radio.ground_reflection);
  CHECK(site->reading.zero == Dbm{-105});
  CHECK(site->reading.full == Dbm{-30});
  CHECK(site->reading.weak_below_percent == 40);
  CHECK_FALSE(site->hubs[0].capacity);
  CHECK(site->devices.empty());
}

TEST_CASE("repeaters, devices and areas left empty say none, hubs left empty do not") {
  const std::string head =
      "site: S\nradio: {frequency_mhz: 868.3}\nstoreys: [{name: g, level_m: 0, height_m: 3}]\n";
  const auto site = parse_site(head + "hubs: {h: {profile: hub, storey: g, at_m: [0, 0], height_m: 1}}\n" +
                                   "repeaters:\ndevices:\nareas: # none yet\n",
                               "s.yaml", embedded_tables());
  REQUIRE(fault_lines(site) == "");
  CHECK(site->repeaters.empty());
  CHECK(site->devices.empty());
  CHECK(site->areas.empty());
  CHECK(fault_lines(parse_site(head + "hubs:\n", "s.yaml", embedded_tables())) ==
        "s.yaml:4:1: hubs: expected a map of names, found nothing\n");
}

TEST_CASE("a profile of the table is built in until a file replaces it") {
  const ProfileTable& profiles = every_key().profiles;
  CHECK(profiles.at("hub").built_in);
  CHECK_FALSE(profiles.at("radiated").built_in);
  const auto site = parse_site(R"(site: S
radio: {frequency_mhz: 868.3}
profiles: {hub: {erp_dbm: 14, sensitivity_dbm: -105, two_way: on}}
storeys: [{name: g, level_m: 0, height_m: 3}]
hubs: {h: {profile: hub, storey: g, at_m: [0, 0], height_m: 1}}
)",
                               "s.yaml", embedded_tables());
  REQUIRE(fault_lines(site) == "");
  CHECK_FALSE(site->profiles.at("hub").built_in);
}

TEST_CASE("a byte-order mark, CRLF line ends and flow style change nothing") {
  const auto text = read_text_file(LINKMARGIN_TEST_DATA "/yaml/every_key.yaml");
  REQUIRE(text);
  std::string windows = "\xEF\xBB\xBF";
  for (const char letter : *text) windows += letter == '\n' ? std::string("\r\n") : std::string(1, letter);
  const auto site = parse_site(windows, "w.yaml", embedded_tables());
  REQUIRE(fault_lines(site) == "");
  CHECK(site->devices.size() == 3);
  CHECK(site->note == "read by a test");
}

TEST_CASE("what is wrong with a mount is told at its place") {
  const auto faults = [](const std::string& mount) {
    return fault_lines(
        parse_site("site: S\nradio: {frequency_mhz: 868}\n"
                   "storeys: [{name: g, level_m: 0, height_m: 3}]\n"
                   "hubs:\n  h: {profile: hub, storey: g, at_m: [0, 0], height_m: 1,\n"
                   "    mount: " +
                       mount + "}\n",
                   "s.yaml", embedded_tables()));
  };
  CHECK(faults("{on: metal, gap_m: 0.001}") == "");
  CHECK(faults("{on: metal, gap_m: 1, faces_deg: 360}") == "");
  CHECK(faults("{on: metal}") == "s.yaml:6:12: missing key 'gap_m' in mount\n");
  CHECK(faults("{gap_m: 0.02}") == "s.yaml:6:12: missing key 'on' in mount\n");
  CHECK(faults("{on: metall, gap_m: 0.02}") ==
        "s.yaml:6:17: on: expected one of metal, found \"metall\" (did you mean 'metal'?)\n");
  CHECK(faults("{on: metal, gap_m: 0.02, face_deg: 90}") ==
        "s.yaml:6:37: unknown key 'face_deg' (did you mean 'faces_deg'?)\n");
  CHECK(faults("{on: metal, gap_m: 2}").starts_with("s.yaml:6:31: gap_m: 2 is outside 0.001..1"));
  CHECK(faults("metal") == "s.yaml:6:12: mount: expected a map, found \"metal\"\n");
}

TEST_CASE("echoes are switched by themselves, under any model") {
  const auto site = parse_site(R"(site: S
radio: {frequency_mhz: 868, model: log_distance, reverberation: off}
storeys: [{name: g, level_m: 0, height_m: 3}]
hubs: {h: {profile: hub, storey: g, at_m: [0, 0], height_m: 1}}
)",
                               "s.yaml", embedded_tables());
  REQUIRE(fault_lines(site) == "");
  CHECK(site->radio.diffraction);
  CHECK_FALSE(site->radio.reverberation);
}

TEST_CASE("switches take their six words in any letter case, and nothing else") {
  const auto diffraction = [](const std::string& word) {
    const auto site = parse_site("site: S\nradio: {frequency_mhz: 868, diffraction: " + word +
                                     "}\nstoreys: [{name: g, level_m: 0, height_m: 3}]\n"
                                     "hubs: {h: {profile: hub, storey: g, at_m: [0, 0], height_m: 1}}\n",
                                 "s.yaml", embedded_tables());
    return site ? std::string(site->radio.diffraction ? "on" : "off") : fault_lines(site);
  };
  for (const char* word : {"true", "yes", "on", "On", "TRUE"}) CHECK(diffraction(word) == "on");
  for (const char* word : {"false", "no", "off", "Off", "NO"}) CHECK(diffraction(word) == "off");
  CHECK(diffraction("1") == "s.yaml:2:42: diffraction: expected on or off, found \"1\"\n");
  CHECK(diffraction("'on'") ==
        "s.yaml:2:42: diffraction: expected on or off, found \"on\" in quotation marks\n");
  CHECK(diffraction("[on]") == "s.yaml:2:42: diffraction: expected on or off, found a list\n");
}
