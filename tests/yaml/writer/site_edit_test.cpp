#include "linkmargin/yaml/writer/site_edit.hpp"

#include "linkmargin/yaml/site/site_yaml.hpp"

#include "fixtures/fault_lines.hpp"

#include <doctest/doctest.h>

#include <utility>

using namespace linkmargin;

namespace {

/// A site with these radios.
std::string file_with(const std::string& radios) {
  return "# a comment\nsite: odd\nradio: {frequency_mhz: 868.3}\n"
         "profiles: {small hub: {erp_dbm: 10, sensitivity_dbm: -105, two_way: true}}\nstoreys:\n"
         "  - {name: ground, level_m: 0, height_m: 2.5}\n"
         "  - name: \"up: stairs\"   # with a colon\n    level_m: 2.5\n    height_m: 2.5\n" +
         radios;
}

std::string edited(const std::string& text, const std::vector<Edit>& edits) {
  const auto result = edited_text(text, "odd.yaml", edits, embedded_tables());
  return result ? *result : "FAULT " + fault_lines(result);
}

/// Radios before and after the edits.
struct Row {
  std::string what;
  std::string before;
  std::vector<Edit> edits;
  std::string after;
};

void check(const std::vector<Row>& rows) {
  for (const Row& row : rows) {
    CAPTURE(row.what);
    CHECK(edited(file_with(row.before), row.edits) == file_with(row.after));
  }
}

const std::string kHub = "hubs:\n  hub: {profile: hub, storey: ground, at_m: [1, 1], height_m: 2}\n";
const NewRadio kAdded{"repeater", "up: stairs", {2, snapped(0.1)}, 1.5};

}  // namespace

TEST_CASE("what is taken away goes with its comma or its lines, and nothing else") {
  const std::vector<Edit> bare{{"/hubs/hub/mount", Removal{}}};
  const std::string metal = "mount: {on: metal, gap_m: 0.01}";
  check({
      {"in the middle of braces",
       "hubs:\n  hub: {profile: hub, " + metal + ",  storey: ground, at_m: [1, 1], height_m: 2}  # hub\n",
       bare, "hubs:\n  hub: {profile: hub, storey: ground, at_m: [1, 1], height_m: 2}  # hub\n"},
      {"first and last in braces",
       "hubs:\n  hub: {" + metal + ", profile: hub, storey: ground, at_m: [1, 1], height_m: 2}\n", bare,
       kHub},
      {"last in braces",
       "hubs:\n  hub: {profile: hub, storey: ground, at_m: [1, 1], height_m: 2, " + metal + "}\n", bare,
       kHub},
      {"on a line of its own in braces",
       "hubs:\n  hub: {profile: hub, storey: ground, at_m: [1, 1],\n        " + metal +
           ",  # cabinet\n        height_m: 2}\n",
       bare, "hubs:\n  hub: {profile: hub, storey: ground, at_m: [1, 1],\n        height_m: 2}\n"},
      {"in lines",
       "hubs:\n  hub:\n    profile: hub\n    mount:   # cabinet\n      on: metal\n      gap_m: 0.01  # by "
       "eye\n"
       "    storey: ground  # s\n    at_m: [1, 1]\n    height_m: 2\n",
       bare, "hubs:\n  hub:\n    profile: hub\n    storey: ground  # s\n    at_m: [1, 1]\n    height_m: 2\n"},
      {"in lines, at the end of the file",
       "hubs:\n  hub:\n    profile: hub\n    storey: ground\n    at_m: [1, 1]\n    height_m: 2\n    " + metal,
       bare, "hubs:\n  hub:\n    profile: hub\n    storey: ground\n    at_m: [1, 1]\n    height_m: 2\n"},
      {"a repeater beside another",
       kHub + "repeaters:\n  r: {storey: ground, at_m: [1, 2], height_m: 1}  # gone with it\n  s: {storey: "
              "ground, "
              "at_m: [2, 2], height_m: 1}\n",
       {{"/repeaters/r", Removal{}}},
       kHub + "repeaters:\n  s: {storey: ground, at_m: [2, 2], height_m: 1}\n"},
  });
  // A comment that would be lost is not.
  const std::string commented = file_with(
      "hubs:\n  hub: {profile: hub, storey: ground, at_m: [1, 1], height_m: 2,  # two metres\n        " +
      metal + "}\n");
  CHECK(edited(commented, bare)
            .starts_with("FAULT odd.yaml: the file cannot take the edit of \"/hubs/hub/mount\""));
}

TEST_CASE("a value is replaced where it stands, and nothing else") {
  check({
      {"in braces",
       kHub + "# end",
       {{"/hubs/hub/height_m", 1.25}},
       "hubs:\n  hub: {profile: hub, storey: ground, at_m: [1, 1], height_m: 1.25}\n# end"},
      {"in lines, with comments",
       "hubs:\n  hub:\n    profile: hub  # p\n    storey: ground\n    at_m:   # a\n      - 1   # x\n      - "
       "1.0 # y\n"
       "    height_m:   2.0   # h\n",
       {{"/hubs/hub/height_m", 1.0},
        {"/hubs/hub/at_m", Point2{snapped(0.3), 1}},
        {"/hubs/hub/storey", "up: stairs"}},
       "hubs:\n  hub:\n    profile: hub  # p\n    storey: \"up: stairs\"\n    at_m:   # a\n      - 0.3   # "
       "x\n"
       "      - 1.0 # y\n    height_m:   1   # h\n"},
      {"braces over lines",
       "hubs: {hub: {profile: hub, storey: ground,\n   at_m: [1,\n 1], # at\n  height_m: 2}}\n",
       {{"/hubs/hub/at_m", Point2{3, 4}}, {"/hubs/hub/height_m", 1.5}},
       "hubs: {hub: {profile: hub, storey: ground,\n   at_m: [3,\n 4], # at\n  height_m: 1.5}}\n"},
      {"quotation marks stay",
       "hubs:\n  'hub': {\"profile\": \"hub\", storey: 'ground', at_m: [1, 1], height_m: 2}\n",
       {{"/hubs/hub/profile", "repeater"}, {"/hubs/hub/storey", "up: stairs"}},
       "hubs:\n  'hub': {\"profile\": \"repeater\", storey: 'up: stairs', at_m: [1, 1], height_m: 2}\n"},
      {"what says the same stays",
       "hubs: {hub: {profile: hub, storey: ground, at_m: [0.10, 1e0], height_m: 2.00}}\n",
       {{"/hubs/hub/height_m", 2.0}, {"/hubs/hub/at_m", Point2{0.1, 1}}, {"/hubs/hub/profile", "hub"}},
       "hubs: {hub: {profile: hub, storey: ground, at_m: [0.10, 1e0], height_m: 2.00}}\n"},
      {"the last edit counts", kHub, {{"/hubs/hub/height_m", 1.0}, {"/hubs/hub/height_m", 2.0}}, kHub},
  });
}

TEST_CASE("texts folded over lines are replaced whole, their comment stays") {
  check({
      {"plain",
       "hubs:\n  hub:\n    profile: small\n      hub\n    storey: ground\n    at_m: [1, 1]\n    "
       "height_m: 2\n",
       {{"/hubs/hub/profile", "hub"}},
       "hubs:\n  hub:\n    profile: hub\n    storey: ground\n    at_m: [1, 1]\n    height_m: 2\n"},
      {"block",
       "hubs:\n  hub:\n    profile: >-  # why\n      repeater\n\n    storey: |-\n      ground\n    at_m: [1, "
       "1]\n    height_m: 2\n",
       {{"/hubs/hub/profile", "hub"}, {"/hubs/hub/storey", "up: stairs"}},
       "hubs:\n  hub:\n    profile: hub  # why\n\n    storey: \"up: stairs\"\n    at_m: [1, 1]\n    "
       "height_m: 2\n"},
      {"quoted",
       "hubs: {hub: {profile: \"small\n   hub\", storey: ground, at_m: [1, 1], height_m: 2}}",
       {{"/hubs/hub/profile", "hub"}},
       "hubs: {hub: {profile: \"hub\", storey: ground, at_m: [1, 1], height_m: 2}}"},
  });
}

TEST_CASE("a missing key is put in as its neighbours are written") {
  const std::string start = "devices:\n  d:";
  const std::vector<Edit> edits{{"/devices/d/mount_loss_db", 3.0}};
  check({
      {"in braces", kHub + start + " {profile: contact, storey: ground, at_m: [1, 2], height_m: 2}  # c\n",
       edits,
       kHub + start +
           " {profile: contact, storey: ground, at_m: [1, 2], height_m: 2, mount_loss_db: 3}  # c\n"},
      {"in braces with a comma at the end",
       kHub + start + " {profile: contact, storey: ground, height_m: 2, at_m: [1, 2] , }\n", edits,
       kHub + start +
           " {profile: contact, storey: ground, height_m: 2, at_m: [1, 2], mount_loss_db: 3 , }\n"},
      {"a key a line in braces",
       kHub + start +
           " {\n    profile: contact,\n    storey: ground, # s\n    at_m: [1, 2],\n    height_m: 2 # h\n  "
           "}\n",
       edits,
       kHub + start +
           " {\n    profile: contact,\n    storey: ground, # s\n    at_m: [1, 2],\n    height_m: 2, # h\n"
           "    mount_loss_db: 3\n  }\n"},
      {"a key a line, comma at the end",
       kHub + start +
           " {profile: contact,\n      storey: ground,\n      at_m: [1, 2],\n      height_m: 2,  # h\n }\n",
       edits,
       kHub + start +
           " {profile: contact,\n      storey: ground,\n      at_m: [1, 2],\n      height_m: 2,  # h\n"
           "      mount_loss_db: 3,\n }\n"},
      {"a key a line, brace on the last",
       kHub + start + " {profile: contact,\n      storey: ground,\n      at_m: [1, 2],\n      height_m: 2}\n",
       edits,
       kHub + start +
           " {profile: contact,\n      storey: ground,\n      at_m: [1, 2],\n      height_m: 2,\n"
           "      mount_loss_db: 3}\n"},
      {"in lines",
       kHub + start +
           "\n    profile: contact\n    storey: ground\n    height_m: 2\n    at_m: [1,\n  2] # c\n\n# end",
       edits,
       kHub + start +
           "\n    profile: contact\n    storey: ground\n    height_m: 2\n    at_m: [1,\n  2] # c\n"
           "    mount_loss_db: 3\n\n# end"},
      {"in lines, behind a text that keeps its blank lines",
       kHub + start +
           "\n    profile: contact\n    storey: ground\n    height_m: 2\n    at_m: [1, 2]\n    note: |+\n    "
           "  # text\n\n\nareas:\n",
       edits,
       kHub + start +
           "\n    profile: contact\n    storey: ground\n    height_m: 2\n    at_m: [1, 2]\n    note: |+\n    "
           "  # text\n\n\n"
           "    mount_loss_db: 3\nareas:\n"},
      {"in lines, file without a line end",
       kHub + start + "\n   profile: contact\n   storey: ground\n   height_m: 2\n   at_m: [1, 2]", edits,
       kHub + start +
           "\n   profile: contact\n   storey: ground\n   height_m: 2\n   at_m: [1, 2]\n   mount_loss_db: 3"},
  });
}

TEST_CASE("the section reading is put behind radio") {
  const std::string radio = "site: x\nradio:\n   frequency_mhz: 868.3 # f\n";
  const std::string rest = "storeys: [{name: ground, level_m: 0, height_m: 2.5}]\n" + kHub;
  const std::vector<Edit> edits{{"/reading/full_dbm", -40.0}, {"/reading/zero_dbm", -100.5}};
  CHECK(edited(radio + rest, edits) == radio + "reading:\n   full_dbm: -40\n   zero_dbm: -100.5\n" + rest);
  CHECK(edited("site: x\nradio: {frequency_mhz: 868.3}\n" + rest, edits) ==
        "site: x\nradio: {frequency_mhz: 868.3}\nreading: {full_dbm: -40, zero_dbm: -100.5}\n" + rest);
}

TEST_CASE("a hub or repeater is added under its section, which is made where it is absent") {
  const std::string line = "{profile: repeater, storey: \"up: stairs\", at_m: [2, 0.1], height_m: 1.5}";
  const std::vector<Edit> landing{{"/repeaters/landing", kAdded}};
  check({
      {"no section", kHub + "areas:\n", landing, kHub + "repeaters:\n  landing: " + line + "\nareas:\n"},
      {"a section without value", kHub + "repeaters:   # none yet\n\nareas:\n", landing,
       kHub + "repeaters:   # none yet\n  landing: " + line + "\n\nareas:\n"},
      {"null", kHub + "repeaters: ~  # none\n", landing,
       kHub + "repeaters: {landing: " + line + "}  # none\n"},
      {"empty braces", kHub + "repeaters: { }\n", landing, kHub + "repeaters: {landing: " + line + "}\n"},
      {"beside another",
       kHub,
       {{"/hubs/second: a~1b~0", kAdded}},
       kHub + "  \"second: a/b~\": " + line + "\n"},
      {"names that would be something else",
       kHub,
       {{"/hubs/12", kAdded},
        {"/hubs/yes", kAdded},
        {"/hubs/# \"x\" \\", kAdded},
        {"/hubs/it's", kAdded},
        {"/hubs/zwölf [1]", kAdded}},
       kHub + "  \"12\": " + line + "\n  \"yes\": " + line + "\n  \"# \\\"x\\\" \\\\\": " + line +
           "\n  it's: " + line + "\n  \"zwölf [1]\": " + line + "\n"},
      {"others in lines",
       "hubs:\n    hub:\n       profile: hub\n       storey: ground\n       at_m: [1, 1]\n       height_m: "
       "2\n",
       {{"/hubs/second", kAdded}, {"/repeaters/landing", kAdded}},
       "hubs:\n    hub:\n       profile: hub\n       storey: ground\n       at_m: [1, 1]\n       height_m: "
       "2\n"
       "    second:\n       profile: repeater\n       storey: \"up: stairs\"\n       at_m: [2, 0.1]\n       "
       "height_m: 1.5\n"
       "repeaters:\n    landing:\n        profile: repeater\n        storey: \"up: stairs\"\n        at_m: "
       "[2, 0.1]\n"
       "        height_m: 1.5\n"},
      {"hubs in braces", "hubs: {hub: {profile: hub, storey: ground, at_m: [1, 1], height_m: 2}}\n...\n",
       landing,
       "hubs: {hub: {profile: hub, storey: ground, at_m: [1, 1], height_m: 2}}\nrepeaters: {landing: " +
           line + "}\n...\n"},
      {"added, then changed",
       kHub,
       {{"/hubs/b", kAdded}, {"/hubs/b/height_m", 1.0}, {"/hubs/b/cable_m", 2.0}},
       kHub + "  b: {profile: repeater, storey: \"up: stairs\", at_m: [2, 0.1], height_m: 1, cable_m: "
              "2}\n"},
  });
}

namespace {

Calibration two_walls() {
  Calibration learned;
  learned.offset_db = -3.4;
  learned.offset_sigma_db = 1.25;
  learned.readings = 24;
  learned.materials = {{"brick", {2.1, 0.9, 0}}, {"timber door", {-1, 0.5, 6}}};
  learned.correlations = {{kOffsetPointer, shift_pointer("timber door"), -0.62}};
  return learned;
}

const std::string kTwoWalls =
    "  offset_db: -3.4\n  offset_sigma_db: 1.25\n  readings: 24\n  materials:\n"
    "    brick: {shift_db: 2.1, sigma_db: 0.9}\n    timber door: {shift_db: -1, sigma_db: 0.5, readings: 6}\n"
    "  correlations:\n    - [/calibration/offset_db, /calibration/materials/timber door/shift_db, -0.62]\n";

}  // namespace

TEST_CASE("a calibration is put in at the end") {
  const std::vector<Edit> whole{{"/calibration", two_walls()}};
  Calibration offset;
  offset.offset_db = 2;
  check({
      {"behind the last section, before the comments at the end", kHub + "# end\n", whole,
       kHub + "calibration:\n" + kTwoWalls + "# end\n"},
      {"behind a section without value", kHub + "areas:   # none\n", whole,
       kHub + "areas:   # none\ncalibration:\n" + kTwoWalls},
      {"where nothing but an offset was learned",
       kHub,
       {{"/calibration", offset}},
       kHub + "calibration:\n  offset_db: 2\n"},
      {"as it stands in a file whose maps are indented by four",
       "hubs:\n    hub:\n        profile: hub\n        storey: ground\n        at_m: [1, 1]\n        "
       "height_m: 2\n",
       {{"/calibration", offset}},
       "hubs:\n    hub:\n        profile: hub\n        storey: ground\n        at_m: [1, 1]\n        "
       "height_m: 2\n"
       "calibration:\n    offset_db: 2\n"},
      {"single figures make the section",
       kHub,
       {{"/calibration/materials/timber door/shift_db", 1.5},
        {"/calibration/materials/timber door/sigma_db", 0.5},
        {"/calibration/offset_db", -2.0},
        {"/calibration/materials/brick/shift_db", 3.0}},
       kHub + "calibration:\n  materials:\n    timber door: {shift_db: 1.5, sigma_db: 0.5}\n    brick: "
              "{shift_db: 3}\n"
              "  offset_db: -2\n"},
  });
}

TEST_CASE("a calibration takes the place of another, and nothing else changes") {
  const std::vector<Edit> whole{{"/calibration", two_walls()}};
  const std::string rest = "# hubs\n" + kHub;
  check({
      {"in lines, the comment of its key stays, those within go",
       "calibration:   # in May\n  # rough\n  offset_db: -9 # dB\n  correlations:\n  - - /reading/zero_dbm\n "
       "   - "
       "/reading/full_dbm\n    - 0.5  # half\n" +
           rest,
       whole, "calibration:   # in May\n" + kTwoWalls + rest},
      {"in braces", "calibration: {offset_db: -9}  # in May\n" + rest, whole,
       "calibration: {offset_db: -3.4, offset_sigma_db: 1.25, readings: 24, materials: {brick: {shift_db: "
       "2.1, "
       "sigma_db: 0.9}, timber door: {shift_db: -1, sigma_db: 0.5, readings: 6}}, correlations: "
       "[[/calibration/offset_db, /calibration/materials/timber door/shift_db, -0.62]]}  # in May\n" +
           rest},
      {"indented by four, its lines stay so",
       rest + "calibration:\n    offset_db: 1\n    materials: {}\n",
       {{"/calibration", Calibration{.offset_db = 2}}},
       rest + "calibration:\n    offset_db: 2\n"},
      {"what says the same stays as it is written",
       "calibration: {offset_db: -3.40, readings: 24, offset_sigma_db: 1.25, correlations: "
       "[[/calibration/offset_db,\n"
       "  /calibration/materials/timber door/shift_db, -0.62]],   # as found\n"
       "  materials: {brick: {shift_db: 2.1, sigma_db: 0.9}, timber door: {readings: 6, sigma_db: .5, "
       "shift_db: -1.0}}}\n" +
           rest,
       whole,
       "calibration: {offset_db: -3.40, readings: 24, offset_sigma_db: 1.25, correlations: "
       "[[/calibration/offset_db,\n"
       "  /calibration/materials/timber door/shift_db, -0.62]],   # as found\n"
       "  materials: {brick: {shift_db: 2.1, sigma_db: 0.9}, timber door: {readings: 6, sigma_db: .5, "
       "shift_db: -1.0}}}\n" +
           rest},
      {"single figures are set where they stand",
       "calibration:\n  offset_db: 1  # o\n  materials:\n    brick: {shift_db: 1}  # b\n" + rest,
       {{"/calibration/offset_db", 2.0},
        {"/calibration/materials/brick/shift_db", -1.0},
        {"/calibration/materials/brick/sigma_db", 0.25},
        {"/calibration/materials/timber door/shift_db", 4.0}},
       "calibration:\n  offset_db: 2  # o\n  materials:\n    brick: {shift_db: -1, sigma_db: 0.25}  # b\n"
       "    timber door: {shift_db: 4}\n" +
           rest},
  });
}

TEST_CASE("a file in the form of JSON stays one") {
  const std::string head = R"({"site": "j", "radio": {"frequency_mhz": 868.3, "diffraction":true}, "storeys":
 [{"name":"ground","level_m":0,"height_m":2.5}], "hubs": {"hub": {"profile":"hub","storey":"ground","at_m":[1,1],"height_m":2}})";
  const auto text = edited(head + "}", {{"/repeaters/r", NewRadio{"repeater", "ground", {2, 3}, 1}},
                                        {"/radio/diffraction", false},
                                        {"/radio/reverberation", false}});
  CHECK(
      text ==
      R"({"site": "j", "radio": {"frequency_mhz": 868.3, "diffraction":false, "reverberation": false}, "storeys":
 [{"name":"ground","level_m":0,"height_m":2.5}], "hubs": {"hub": {"profile":"hub","storey":"ground","at_m":[1,1],"height_m":2}}, )"
      R"("repeaters": {"r": {"profile": "repeater", "storey": "ground", "at_m": [2, 3], "height_m": 1}}})");
}

TEST_CASE("a calibration in a file in the form of JSON") {
  const std::string head =
      R"({"site": "j", "radio": {"frequency_mhz": 868.3}, "storeys": [{"name":"ground","level_m":0,"height_m":2.5}],
 "hubs": {"hub": {"profile":"hub","storey":"ground","at_m":[1,1],"height_m":2}})";
  Calibration learned;
  learned.materials = {{"brick", {1, 0.5, 0}}};
  learned.correlations = {{kOffsetPointer, shift_pointer("brick"), 0.5}};
  const std::string first = edited(head + "}", {{"/calibration", learned}});
  CHECK(
      first ==
      head +
          R"(, "calibration": {"offset_db": 0, "materials": {"brick": {"shift_db": 1, "sigma_db": 0.5}}, )" +
          R"("correlations": [["/calibration/offset_db", "/calibration/materials/brick/shift_db", 0.5]]}})");
  CHECK(edited(first, {{"/calibration", Calibration{.offset_db = 3}}}) ==
        head + R"(, "calibration": {"offset_db": 3}})");
}

TEST_CASE("switches keep their words, byte-order mark and line ends stay") {
  std::string text =
      "\xEF\xBB\xBFsite: crlf \xC3\xA4\r\nradio: {frequency_mhz: 868.3, diffraction: No}\r\nstoreys:\r\n"
      "- {name: g\xC3\xBC, level_m: 0, height_m: 2.5}\r\nhubs:\r\n  h\xC3\xBC: {profile: hub, storey: "
      "g\xC3\xBC, at_m: [1, 1], height_m: 2}\r\n";
  const auto found = edited(text, {{"/radio/diffraction", true},
                                   {"/hubs/h\xC3\xBC/height_m", 1.0},
                                   {"/repeaters/r", NewRadio{"repeater", "g\xC3\xBC", {2, 3}, 1}}});
  text.replace(text.find("No"), 2, "yes");
  text.replace(text.find("height_m: 2}"), 12, "height_m: 1}");
  CHECK(found ==
        text + "repeaters:\r\n  r: {profile: repeater, storey: g\xC3\xBC, at_m: [2, 3], height_m: 1}\r\n");
}

TEST_CASE("a hub comes with its slots, and a device under its section") {
  NewRadio total{"hub", "ground", {2, 2}, 1.5};
  total.capacity = Capacity{.total = 12, .by_class = {}};
  NewRadio by_class = total;
  by_class.capacity = Capacity{.total = {}, .by_class = {{"fobs", 8}, {"others", 24}}};
  const NewDevice device{
      .radio = {"contact", "ground", {2, 1}, 1}, .slots = 2, .hub = "hub", .mount_loss_db = 6};
  check({{"a number of slots",
          kHub,
          {{"/hubs/second", total}},
          kHub + "  second: {profile: hub, storey: ground, at_m: [2, 2], height_m: 1.5, capacity: 12}\n"},
         {"slots by class",
          kHub,
          {{"/hubs/second", by_class}},
          kHub + "  second: {profile: hub, storey: ground, at_m: [2, 2], height_m: 1.5, capacity: {fobs: 8, "
                 "others: 24}}\n"},
         {"the first device",
          kHub,
          {{"/devices/one", device}},
          kHub + "devices:\n  one: {profile: contact, storey: ground, at_m: [2, 1], height_m: 1, slots: 2, "
                 "hub: hub, "
                 "mount_loss_db: 6}\n"}});
}

TEST_CASE("what cannot be written is refused") {
  const std::string text = file_with(kHub);
  const std::vector<std::pair<std::string, std::string>> cases{
      {edited("site: [", {}), "FAULT odd.yaml:1:"},
      {edited(
           text + "devices: {d: &x {profile: contact, storey: ground, at_m: [1, 1], height_m: 2}, e: *x}\n",
           {}),
       "FAULT odd.yaml:12:14: anchors are not taken in this file"},
      {edited(text, {{"/hubs/hubb/height_m", 1.0}}), "FAULT unknown hub 'hubb' (did you mean 'hub'?)"},
      {edited(text, {{"/materials/brick/sigma_db", 1.0}}),
       "FAULT odd.yaml: the file cannot take the edit of \"/materials/brick/sigma_db\""},
      {edited(text + "materials:\n  wall: {losses: [{frequency_mhz: 900, loss_db: 3}]}\n",
              {{"/materials/wall/loss_db", 4.0}}),
       "FAULT odd.yaml: the edits cannot be written into this file"},
      {edited(text, {{"/hubs/hub", NewRadio{"hub", "ground", {1, 1}, 2}}}),
       "FAULT there is a hub 'hub' already"},
      {edited(text + "repeaters:\n  r: {profile: repeater, storey: ground, at_m: [1, 2], height_m: 1}\n",
              {{"/repeaters/r", Removal{}}}),
       "FAULT odd.yaml: the file cannot take the edit of \"/repeaters/r\""},
      {edited("? site\n: odd\n? radio\n: {frequency_mhz: 868.3}\n? storeys\n: [{name: g, level_m: 0, "
              "height_m: 2}]\n? hubs\n"
              ": {h: {profile: hub, storey: g, at_m: [1, 1], height_m: 1}}\n",
              {{"/repeaters/r", NewRadio{"repeater", "g", {1, 2}, 1}}}),
       "FAULT odd.yaml: the file cannot take the edit of \"/repeaters/r\""}};
  for (const auto& [found, expected] : cases) {
    const auto& expected_shown = expected;
    CAPTURE(expected_shown);
    const auto& found_shown = found;
    CAPTURE(found_shown);
    CHECK(found.starts_with(expected));
  }
}

TEST_CASE("an edit that a file cannot take in its form has a code of its own") {
  const std::vector<std::pair<std::string, Edit>> cases{
      {file_with(kHub), {"/materials/brick/sigma_db", 1.0}},
      {file_with(kHub) + "materials:\n  wall: {losses: [{frequency_mhz: 900, loss_db: 3}]}\n",
       {"/materials/wall/loss_db", 4.0}}};
  for (const auto& [text, edit] : cases) {
    const auto& edit_shown = edit.path;
    CAPTURE(edit_shown);
    const auto result = edited_text(text, "odd.yaml", std::vector<Edit>{edit}, embedded_tables());
    REQUIRE_FALSE(result);
    CHECK(code_word(result.error().front().code) == "unwritable_edit");
  }
}

TEST_CASE("a boundary is found by its two rooms, a roof by its room, and neither moves anything else") {
  const std::string before =
      "site: s\nradio: {frequency_mhz: 868.3}\nstoreys:\n"
      "  - name: ground\n    level_m: 0\n    height_m: 2.5\n    outer_wall: {material: light wall}\n"
      "    inner_wall: {material: light wall}\n    rooms:\n      a: {rect_m: [0, 0, 4, 4]}\n"
      "      b: {rect_m: [4, 0, 4, 4], roof: {material: tiled roof}}  # lean-to\n    boundaries:\n"
      "      - {between: [b, outside], material: light wall}\n"
      "      - {between: [b, a], material: light wall}  # the party wall\n"
      "hubs:\n  hub: {profile: hub, storey: ground, at_m: [1, 1], height_m: 2}\n";
  std::string after = before;
  const auto replace = [&](const std::string& from, const std::string& to) {
    after.replace(after.find(from), from.size(), to);
  };
  replace("[b, a], material: light wall", "[b, a], material: heavy wall");
  replace("tiled roof", "metal roof");
  CHECK(edited(before, {{"/storeys/ground/boundaries/a and b/material", "heavy wall"},
                        {"/storeys/ground/rooms/b/roof/material", "metal roof"}}) == after);
}
