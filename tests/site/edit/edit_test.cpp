#include "linkmargin/site/edit/edit.hpp"

#include "fixtures/sound_site.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;
using site_test::holds;
using site_test::sound_site;

namespace {

Site site_with_odd_names() {
  Site site = sound_site();
  site.devices[0].name = "a/b~c: \"d\"";
  site.devices[0].mount = Mount{Mount::On::metal, 0.02, {}};
  site.calibration = Calibration{};
  site.calibration->materials["heavy"] = {1, 2, 3};
  return site;
}

Calibration learned() {
  Calibration whole;
  whole.offset_db = 1.5;
  whole.materials = {{"brick", {2, 1, 4}}};
  whole.correlations = {{kOffsetPointer, shift_pointer("brick"), -0.5}};
  return whole;
}

/// One edit, and what it changes.
struct Row {
  Edit edit;
  std::function<void(Site&)> change;
};

std::vector<Row> rows() {
  const std::string device = "/devices/a~1b~0c: \"d\"/";
  const std::string opening = "/storeys/ground/openings/street door/";
  return {
      {{"/radio/frequency_mhz", 433.92}, [](Site& s) { s.radio.frequency_hz = 433.92e6; }},
      {{"/radio/model", "multi_wall"}, [](Site& s) { s.radio.model = PathLossModel::multi_wall; }},
      {{"/radio/exponent", 2.5}, [](Site& s) { s.radio.exponent = 2.5; }},
      {{"/radio/model_sigma_db", 4.0}, [](Site& s) { s.radio.model_sigma_db = 4; }},
      {{"/radio/diffraction", false}, [](Site& s) { s.radio.diffraction = false; }},
      {{"/radio/noise", "business"}, [](Site& s) { s.radio.noise = NoiseArea::business; }},
      {{"/reading/zero_dbm", -100.0}, [](Site& s) { s.reading.zero = Dbm{-100}; }},
      {{"/reading/full_dbm", -40.0}, [](Site& s) { s.reading.full = Dbm{-40}; }},
      {{"/reading/weak_below_percent", 0.0}, [](Site& s) { s.reading.weak_below_percent = 0; }},
      {{"/calibration", learned()}, [](Site& s) { s.calibration = learned(); }},
      {{"/calibration/offset_db", -3.5}, [](Site& s) { s.calibration->offset_db = -3.5; }},
      {{"/calibration/offset_sigma_db", 1.5}, [](Site& s) { s.calibration->offset_sigma_db = 1.5; }},
      {{"/calibration/exponent_sigma", 0.25}, [](Site& s) { s.calibration->exponent_sigma = 0.25; }},
      {{"/calibration/zero_sigma_db", 2.0}, [](Site& s) { s.calibration->zero_sigma_db = 2; }},
      {{"/calibration/full_sigma_db", 3.0}, [](Site& s) { s.calibration->full_sigma_db = 3; }},
      {{"/calibration/readings", 24.0}, [](Site& s) { s.calibration->readings = 24; }},
      {{"/calibration/materials/heavy/sigma_db", 0.5},
       [](Site& s) { s.calibration->materials["heavy"].sigma_db = 0.5; }},
      {{"/calibration/materials/heavy/readings", 9.0},
       [](Site& s) { s.calibration->materials["heavy"].readings = 9; }},
      {{"/calibration/materials/brick/shift_db", 2.0},
       [](Site& s) { s.calibration->materials["brick"].shift_db = 2; }},
      {{"/materials/leaf/loss_db", 9.0},
       [](Site& s) { std::get<MeasuredLoss>(s.materials["leaf"].kind).points[0].loss_db = 9; }},
      {{"/materials/brick/sigma_db", 2.0}, [](Site& s) { s.materials["brick"].sigma_db = 2; }},
      {{"/storeys/upper/height_m", 2.3}, [](Site& s) { s.storeys[1].height_m = 2.3; }},
      {{"/storeys/1/level_m", 2.9}, [](Site& s) { s.storeys[1].level_m = 2.9; }},
      {{"/storeys/ground/outer_wall/thickness_m", 0.3},
       [](Site& s) { s.storeys[0].outer_wall.thickness_m = 0.3; }},
      {{"/storeys/ground/inner_wall/material", "steel"},
       [](Site& s) { s.storeys[0].inner_wall.material = "steel"; }},
      {{"/storeys/ground/floor/material", "heavy"}, [](Site& s) { s.storeys[0].floor->material = "heavy"; }},
      {{"/storeys/ground/boundaries/1/material", "heavy"},
       [](Site& s) { s.storeys[0].boundaries[1].construction.material = "heavy"; }},
      {{"/storeys/ground/boundaries/shop and workshop/material", "heavy"},
       [](Site& s) { s.storeys[0].boundaries[0].construction.material = "heavy"; }},
      {{"/storeys/ground/boundaries/shop and hall/material", "heavy"},
       [](Site& s) { s.storeys[0].boundaries[1].construction.material = "heavy"; }},
      {{"/storeys/ground/rooms/hall/roof/material", "heavy"},
       [](Site& s) { s.storeys[0].rooms[2].roof->material = "heavy"; }},
      {{"/storeys/ground/rooms/hall/roof/thickness_m", 0.3},
       [](Site& s) { s.storeys[0].rooms[2].roof->thickness_m = 0.3; }},
      {{"/storeys/ground/walls/yard wall/to_m", Point2{19, 8}},
       [](Site& s) {
         s.storeys[0].walls[0].line.b = {19, 8};
       }},
      {{"/storeys/ground/walls/yard wall/height_m", 2.0},
       [](Site& s) { s.storeys[0].walls[0].height_m = 2.0; }},
      {{opening + "leaf", "steel"}, [](Site& s) { s.storeys[0].openings[0].leaf.material = "steel"; }},
      {{opening + "leaf", "none"}, [](Site& s) { s.storeys[0].openings[0].leaf.material = kNoMaterial; }},
      {{opening + "opens", false}, [](Site& s) { s.storeys[0].openings[0].opens = false; }},
      {{"/storeys/ground/openings/2/width_m", 0.8}, [](Site& s) { s.storeys[0].openings[2].width_m = 0.8; }},
      {{"/storeys/ground/obstacles/kiln/height_m", 1.0},
       [](Site& s) { s.storeys[0].obstacles[0].height_m = 1; }},
      {{"/hubs/hub/at_m", Point2{3, 2}},
       [](Site& s) {
         s.hubs[0].place.at = {3, 2};
       }},
      {{"/hubs/hub/storey", "upper"}, [](Site& s) { s.hubs[0].place.storey = 1; }},
      {{"/hubs/hub/profile", "contact"}, [](Site& s) { s.hubs[0].profile = "contact"; }},
      {{"/repeaters/landing/height_m", 1.0}, [](Site& s) { s.repeaters[0].place.height_m = 1; }},
      {{device + "at_m", Point2{2.5, 0.1}},
       [](Site& s) {
         s.devices[0].place.at = snapped(Point2{2.5, 0.1});
       }},
      {{device + "height_m", 0.0}, [](Site& s) { s.devices[0].place.height_m = 0; }},
      {{device + "hub", "hub"}, [](Site& s) { s.devices[0].hub = "hub"; }},
      {{device + "slots", 3.0}, [](Site& s) { s.devices[0].slots = 3; }},
      {{device + "mount_loss_db", 6.0}, [](Site& s) { s.devices[0].mount_loss_db = 6; }},
      {{device + "mount/gap_m", 0.05}, [](Site& s) { s.devices[0].mount->gap_m = 0.05; }},
      {{device + "mount/faces_deg", 90.0}, [](Site& s) { s.devices[0].mount->faces_deg = 90; }},
      {{"/areas/drive/share_percent", 80.0}, [](Site& s) { s.areas[0].share_percent = 80; }},
      {{"/repeaters/stairs: new", NewRadio{"hub", "upper", {1, 2.5}, 2.2}},
       [](Site& s) {
         Repeater repeater;
         repeater.name = "stairs: new";
         repeater.profile = "hub";
         repeater.place = {1, {1, 2.5}, 2.2};
         s.repeaters.push_back(repeater);
       }},
      {{"/hubs/second", NewRadio{"hub", "ground", {1, 1}, 2}}, [](Site& s) {
         Hub hub;
         hub.name = "second";
         hub.profile = "hub";
         hub.place = {0, {1, 1}, 2};
         s.hubs.push_back(hub);
       }}};
}

std::string first_fault(const std::vector<Edit>& edits) {
  const auto edited = edited_site(site_with_odd_names(), edits);
  if (edited) return "no fault";
  return edited.error().front().path + " | " + to_text(edited.error().front());
}

}  // namespace

TEST_CASE("an edit changes what it names, and nothing else") {
  const Site site = site_with_odd_names();
  REQUIRE(validate(site).empty());
  for (const Row& row : rows()) {
    CAPTURE(row.edit.path);
    Site expected = site;
    row.change(expected);
    REQUIRE_FALSE(expected == site);
    const auto edited = edited_site(site, std::vector{row.edit});
    REQUIRE(edited);
    CHECK(*edited == expected);
  }
}

TEST_CASE("edits are made in their order, the last one of a value counts") {
  const auto edited =
      edited_site(sound_site(), std::vector<Edit>{{"/hubs/second", NewRadio{"hub", "ground", {1, 1}, 2}},
                                                  {"/hubs/second/height_m", 1.0},
                                                  {"/hubs/second/height_m", 1.5},
                                                  {"/devices/contact/hub", "second"}});
  REQUIRE(edited);
  CHECK(edited->hubs.at(1).place.height_m == 1.5);
  CHECK(edited->devices[0].hub == "second");
  CHECK(edited_site(sound_site(), {}).value() == sound_site());
}

TEST_CASE("every key of every table can be reached by its path, and no path twice") {
  const std::vector<std::string> paths = editable_paths();
  CHECK(paths.size() == 92);
  for (const std::string& path : paths) {
    CAPTURE(path);
    CHECK(std::ranges::count(paths, path) == 1);
    const auto edited = edited_site(sound_site(), std::vector<Edit>{{path, NewRadio{}}});
    REQUIRE_FALSE(edited);  // no key is a whole hub
  }
}

TEST_CASE("what an edit cannot do is said with its path and what may have been meant") {
  const std::vector<std::pair<std::vector<Edit>, std::string>> cases{
      {{{"", 1.0}},
       " | \"\" is no path to a value (a path is written /devices/NAME/height_m; in a name ~ is ~0 and / is "
       "~1)"},
      {{{"hubs/hub/height_m", 1.0}}, "hubs/hub/height_m | \"hubs/hub/height_m\" is no path"},
      {{{"/hubs/hub~/height_m", 1.0}}, "/hubs/hub~/height_m | \"/hubs/hub~/height_m\" is no path"},
      {{{"/hub/hub/height_m", 1.0}}, "/hub/hub/height_m | an edit cannot set 'hub' (did you mean 'hubs'?)"},
      {{{"/hubs", 1.0}}, "/hubs | the path leads to no single value"},
      {{{"/hubs/hub", 1.0}}, "/hubs/hub | the path leads to no single value"},
      {{{"/storeys/ground/outer_wall", "brick"}},
       "/storeys/ground/outer_wall | the path leads to no single value"},
      {{{"/hubs/hub/at_m/0", 1.0}}, "/hubs/hub/at_m/0 | an edit cannot set 'at_m'"},
      {{{"/hubs/hubb/height_m", 1.0}}, "/hubs/hubb/height_m | unknown hub 'hubb' (did you mean 'hub'?)"},
      {{{"/hubs/0/height_m", 1.0}}, "/hubs/0/height_m | unknown hub '0'"},
      {{{"/hubs/hub/hight_m", 1.0}},
       "/hubs/hub/hight_m | an edit cannot set 'hight_m' (did you mean 'height_m'?)"},
      {{{"/hubs/hub/colour", 1.0}},
       "/hubs/hub/colour | an edit cannot set 'colour' (it can set profile, storey, at_m, height_m, "
       "cable_m)"},
      {{{"/hubs/hub/height_m", 210.0}}, "/hubs/hub/height_m | height_m: 210 is outside -1..100"},
      {{{"/hubs/hub/height_m", "2"}},
       "/hubs/hub/height_m | height_m: expected a number, found the text \"2\""},
      {{{"/hubs/hub/at_m", 2.0}}, "/hubs/hub/at_m | at_m: expected a point [x, y], found the number 2"},
      {{{"/hubs/hub/at_m", Point2{0, 2001}}}, "/hubs/hub/at_m | at_m: 2001 is outside -2000..2000"},
      {{{"/hubs/hub/storey", "uper"}}, "/hubs/hub/storey | unknown storey 'uper' (did you mean 'upper'?)"},
      {{{"/hubs/hub/profile", " hub"}},
       "/hubs/hub/profile | profile: a name takes no blank at its ends: \" hub\""},
      {{{"/hubs/hub/profile", "hubb"}}, "/hubs/hub/profile | unknown profile 'hubb' (did you mean 'hub'?)"},
      {{{"/radio/model", "wals"}}, "/radio/model | unknown model 'wals' (did you mean 'walls'?)"},
      {{{"/radio/diffraction", 1.0}},
       "/radio/diffraction | diffraction: expected on or off, found the number 1"},
      {{{"/radio/routes", false}},
       "/radio/routes | an edit cannot set 'routes' (it is called 'diffraction' now)"},
      {{{"/radio/exponent", std::nan("")}}, "/radio/exponent | exponent: nan is outside 1..6"},
      {{{"/reading/full_dbm", -110.0}}, "/reading/full_dbm | full_dbm must lie above zero_dbm"},
      {{{"/devices/a~1b~0c: \"d\"/slots", 1.5}},
       "/devices/a~1b~0c: \"d\"/slots | slots: expected a whole number, found 1.5"},
      {{{"/materials/brick/loss_db", 9.0}},
       "/materials/brick/loss_db | loss_db: the material is not given by one loss"},
      {{{"/materials/brik/sigma_db", 9.0}},
       "/materials/brik/sigma_db | unknown material 'brik' (did you mean 'brick'?)"},
      {{{"/hubs/hub/mount/gap_m", 0.1}}, "/hubs/hub/mount/gap_m | 'hub' has no mount"},
      {{{"/storeys/upper/roof/material", "slab"}},
       "/storeys/upper/roof/material | the storey says nothing of its roof"},
      {{{"/storeys/ground/boundaries/2/material", "heavy"}},
       "/storeys/ground/boundaries/2/material | the storey has no boundary '2'"},
      {{{"/storeys/ground/boundaries/shop and workshp/material", "heavy"}},
       "/storeys/ground/boundaries/shop and workshp/material | the storey has no boundary 'shop and "
       "workshp'"},
      {{{"/storeys/upper/rooms/office/roof/material", "heavy"}},
       "/storeys/upper/rooms/office/roof/material | room 'office' has no roof of its own that an edit could "
       "change"},
      {{{"/storeys/ground/openings/street dor/leaf", "steel"}},
       "/storeys/ground/openings/street dor/leaf | unknown opening 'street dor' (did you mean 'street "
       "door'?)"},
      {{{"/storeys/ground/openings/street door/at_m", Point2{2.5, 2}}},
       "/storeys/ground/openings/street door"},
      {{{"/hubs/hub", NewRadio{"hub", "ground", {1, 1}, 2}}}, "/hubs/hub | there is a hub 'hub' already"},
      {{{"/repeaters/hub", NewRadio{"hub", "ground", {1, 1}, 2}}},
       "/repeaters/hub | 'hub' is the name of a hub already"},
      {{{"/devices/x", NewRadio{"hub", "ground", {1, 1}, 2}}},
       "/devices/x | a hub or repeater can be added under /hubs or /repeaters only"},
      {{{"/hubs/x", NewRadio{"hub", "cellar", {1, 1}, 2}}}, "/hubs/x | unknown storey 'cellar'"},
      {{{"/hubs/x", NewRadio{"hub", "ground", {1, 1}, 200}}}, "/hubs/x | height_m: 200 is outside -1..100"},
      {{{"/hubs/", NewRadio{"hub", "ground", {1, 1}, 2}}}, "/hubs/ | name: a name must not be empty"},
      {{{"/calibration", 1.0}}, "/calibration | the path leads to no single value"},
      {{{"/calibration/materials", 1.0}}, "/calibration/materials | an edit cannot set 'materials'"},
      {{{"/calibration/offset_db", 61.0}}, "/calibration/offset_db | offset_db: 61 is outside -60..60"},
      {{{"/calibration/materials/brick/sigma_db", 1.0}},
       "/calibration/materials/brick/sigma_db | nothing is learned of 'brick' yet (set its shift_db first)"},
      {{{"/calibration/materials/brik/shift_db", 1.0}},
       "/calibration/materials/brik | unknown material 'brik' (did you mean 'brick'?)"},
      {{{"/radio", learned()}}, "/radio | a whole calibration goes to /calibration only"},
      {{{"/hubs/hub/height_m", learned()}},
       "/hubs/hub/height_m | a whole calibration goes to /calibration only"},
      {{{"/calibration/offset_db", learned()}},
       "/calibration/offset_db | a whole calibration goes to /calibration only"},
  };
  for (const auto& [edits, expected] : cases) {
    const std::string found = first_fault(edits);
    const auto& expected_shown = expected;
    CAPTURE(expected_shown);
    CAPTURE(found);
    CHECK(found.starts_with(expected));
  }
}

TEST_CASE("an edit's fault has the code that a file's has") {
  using Code = DiagnosticCode;
  const std::vector<std::pair<Edit, Code>> cases{{{"/radio/model", "wals"}, Code::unknown_word},
                                                 {{"/hubs/hub/storey", "uper"}, Code::unknown_name},
                                                 {{"/hubs/hubb/height_m", 1.0}, Code::unknown_name},
                                                 {{"/hubs/x", Removal{}}, Code::unknown_name},
                                                 {{"/hubs/hub/height_m", 210.0}, Code::outside_range}};
  for (const auto& [edit, code] : cases) {
    const auto& edit_shown = edit.path;
    CAPTURE(edit_shown);
    const auto edited = edited_site(site_with_odd_names(), std::vector<Edit>{edit});
    REQUIRE_FALSE(edited);
    CHECK(code_word(edited.error().front().code) == code_word(code));
  }
}

TEST_CASE("a calibration is made where there is none") {
  const auto edited =
      edited_site(sound_site(), std::vector<Edit>{{"/calibration/materials/brick/shift_db", -2.0},
                                                  {"/calibration/materials/brick/sigma_db", 1.0}});
  REQUIRE(edited);
  Site expected = sound_site();
  expected.calibration = Calibration{};
  expected.calibration->materials["brick"] = {-2, 1, 0};
  CHECK(*edited == expected);
}

TEST_CASE("every figure of a whole calibration has its range") {
  const auto fault_of = [](const auto& change) {
    Calibration whole = learned();
    change(whole);
    return first_fault({{"/calibration", whole}});
  };
  CHECK(fault_of([](Calibration&) {}) == "no fault");
  const std::string start = "/calibration | ";
  CHECK(fault_of([](Calibration& c) { c.offset_db = -61; }) == start + "offset_db: -61 is outside -60..60");
  CHECK(fault_of([](Calibration& c) { c.offset_sigma_db = -1; }) ==
        start + "offset_sigma_db: -1 is outside 0..30");
  CHECK(fault_of([](Calibration& c) { c.exponent_sigma = 4; }) ==
        start + "exponent_sigma: 4 is outside 0..3");
  CHECK(fault_of([](Calibration& c) { c.zero_sigma_db = 31; }) ==
        start + "zero_sigma_db: 31 is outside 0..30");
  CHECK(fault_of([](Calibration& c) { c.full_sigma_db = std::nan(""); }) ==
        start + "full_sigma_db: nan is outside 0..30");
  CHECK(fault_of([](Calibration& c) { c.readings = -1; }) == start + "readings: -1 is outside 0..1000000");
  CHECK(fault_of([](Calibration& c) { c.materials["brick"].shift_db = 99; }) ==
        start + "shift_db: 99 is outside -60..60");
  CHECK(fault_of([](Calibration& c) { c.materials["brick"].sigma_db = 99; }) ==
        start + "sigma_db: 99 is outside 0..30");
  CHECK(fault_of([](Calibration& c) { c.materials["brick"].readings = -9; }) ==
        start + "readings: -9 is outside 0..1000000");
  CHECK(fault_of([](Calibration& c) { c.correlations[0].value = -1; }) ==
        start + "correlation: -1 is outside -0.999999..0.999999");
  CHECK(fault_of([](Calibration& c) { c.materials.clear(); })
            .starts_with("/calibration/correlations/0/1 | unknown parameter "
                         "'/calibration/materials/brick/shift_db'"));
  CHECK(fault_of([](Calibration& c) {
          for (int i = 0; i < 101; ++i) c.materials["m" + std::to_string(i)] = {};
        }) == start + "learned materials: 102 is outside 0..100");
}

TEST_CASE("things are added and taken away") {
  const Site site = sound_site();
  const auto made = [&](const std::vector<Edit>& edits) {
    const auto edited = edited_site(site, edits);
    REQUIRE(edited);
    return *edited;
  };
  const NewDevice contact{
      .radio = {"contact", "ground", {1, 1}, 2}, .slots = 2, .hub = "hub", .mount_loss_db = 3};
  const Site more = made({{"/devices/new one", contact}});
  REQUIRE(more.devices.size() == site.devices.size() + 1);
  const Device& device = more.devices.back();
  CHECK(device.name == "new one");
  CHECK(device.slots == 2);
  CHECK(device.hub == "hub");
  CHECK(device.mount_loss_db == 3);
  CHECK(made({{"/devices/new one", contact}, {"/devices/new one", Removal{}}}) == site);

  NewRadio hub{"hub", "ground", {1, 1}, 2};
  hub.capacity = Capacity{.total = 8, .by_class = {}};
  CHECK(made({{"/hubs/second", hub}}).hubs.back().capacity == hub.capacity);

  const Obstacle rack{.name = "",
                      .corners = {{1, 1}, {2, 1}, {2, 1.5}, {1, 1.5}},
                      .base_m = 0,
                      .height_m = 2,
                      .construction = {"steel", {}}};
  const Site racked = made({{"/storeys/ground/obstacles/rack", rack}});
  CHECK(racked.storeys[0].obstacles.back().name == "rack");
  CHECK(racked.storeys[0].obstacles.back().construction.material == "steel");
  CHECK(made({{"/storeys/ground/obstacles/rack", rack}, {"/storeys/ground/obstacles/rack", Removal{}}}) ==
        site);
  const std::size_t openings = site.storeys[0].openings.size();
  CHECK(made({{"/storeys/ground/openings/street door", Removal{}}}).storeys[0].openings.size() ==
        openings - 1);
  Site on_metal = site;
  on_metal.hubs[0].mount = Mount{.gap_m = 0.01, .faces_deg = {}};
  const auto bare =
      edited_site(on_metal, std::vector<Edit>{{"/hubs/" + site.hubs[0].name + "/mount", Removal{}}});
  REQUIRE(bare);
  CHECK(*bare == site);
}

TEST_CASE("what cannot be added or taken away is said") {
  const NewDevice contact{.radio = {"contact", "ground", {1, 1}, 2}};
  const Obstacle rack{.name = "",
                      .corners = {{1, 1}, {2, 1}, {2, 1.5}},
                      .base_m = 0,
                      .height_m = 2,
                      .construction = {"steel", {}}};
  const std::vector<std::pair<Edit, std::string>> cases{
      {{"/hubs/new", contact}, "a device can be added under /devices only"},
      {{"/devices/hall", rack}, "an obstacle can be added under /storeys/NAME/obstacles only"},
      {{"/storeys/groun/obstacles/rack", rack}, "unknown storey 'groun'"},
      {{"/devices/hall", NewDevice{.radio = {"contact", "ground", {1, 1}, 200}}},
       "height_m: 200 is outside -1..100"},
      {{"/devices/hall", NewDevice{.radio = {"contact", "groun", {1, 1}, 2}}}, "unknown storey 'groun'"},
      {{"/devices/hall", NewDevice{.radio = {"contact", "ground", {1, 1}, 2}, .slots = 2000}},
       "slots: 2000 is outside 0..1000"},
      {{"/hubs/hubb", Removal{}}, "unknown hub 'hubb'"},
      {{"/hubs/hubb/mount", Removal{}}, "unknown hub 'hubb'"},
      {{"/hubs/hub/mount", Removal{}}, "'hub' has no mount to take away"},
      {{"/hubs/hub/capacity", Removal{}}, "only hubs, repeaters, devices, their mounts, areas"},
      {{"/storeys/ground/rooms/shop", Removal{}},
       "of a storey only openings, obstacles and walls can be taken away"},
      {{"/radio", Removal{}}, "only hubs, repeaters, devices, their mounts, areas"},
      {{"/hubs/hub", Removal{}}, ""}};
  for (const auto& [edit, message] : cases) {
    const auto& edit_shown = edit.path;
    CAPTURE(edit_shown);
    const auto edited = edited_site(sound_site(), std::vector<Edit>{edit});
    REQUIRE_FALSE(edited);
    CHECK(edited.error().front().message.find(message) != std::string::npos);
  }
}

TEST_CASE("all faulty edits are told, none is made") {
  const auto edited =
      edited_site(sound_site(), std::vector<Edit>{{"/hubs/hub/height_m", 210.0}, {"/hubs/x/height_m", 2.0}});
  REQUIRE_FALSE(edited);
  CHECK(edited.error().size() == 2);
}

TEST_CASE("a coordinate is written with as few decimals as snap back to its place") {
  CHECK(coordinate_text(0.0999755859375) == "0.1");
  CHECK(coordinate_text(snapped(-12.3456)) == "-12.3456");
  CHECK(coordinate_text(5) == "5");
  CHECK(coordinate_text(-0.00001) == "0");
  for (int i = -40000; i < 40000; ++i) {
    const double place_m = i * 0.000717;  // some of them near the middle between two places
    REQUIRE(snapped(std::stod(coordinate_text(place_m))) == snapped(place_m));
  }
}
