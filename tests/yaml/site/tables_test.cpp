#include "linkmargin/yaml/site/tables.hpp"

#include "linkmargin/yaml/site/site_yaml.hpp"
#include "linkmargin/yaml/tree/text_file.hpp"

#include "fixtures/fault_lines.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;

TEST_CASE("the embedded texts are the files of data/, byte for byte") {
  CHECK(std::string(starter_text()) == *read_text_file(LINKMARGIN_DATA "/starter.yaml"));
  const auto materials = read_text_file(LINKMARGIN_DATA "/materials.yaml");
  const auto profiles = read_text_file(LINKMARGIN_DATA "/profiles.yaml");
  REQUIRE(materials);
  REQUIRE(profiles);
  const auto parsed = parse_materials(*materials, "materials.yaml", {});
  REQUIRE(fault_lines(parsed) == "");
  CHECK(parsed->size() == embedded_tables().materials.size());
  CHECK(materials->size() > 12000);  // so that it is embedded in more than one part
  const auto radios = parse_profiles(*profiles, "profiles.yaml", {});
  REQUIRE(fault_lines(radios) == "");
  CHECK(radios->size() == embedded_tables().profiles.size());
}

TEST_CASE("the embedded tables hold at least 30 sourced materials and a profile of each main kind") {
  const Tables& tables = embedded_tables();
  CHECK(tables.materials.size() >= 30);
  for (const auto& [name, material] : tables.materials) {
    const auto& name_shown = name;
    CAPTURE(name_shown);
    CHECK(material.name == name);
    CHECK_FALSE(material.source.empty());
  }
  for (const char* name : {"hub", "repeater", "contact", "motion", "smoke", "fob"}) {
    CAPTURE(name);
    REQUIRE(tables.profiles.count(name) == 1);
    CHECK_FALSE(tables.profiles.at(name).source.empty());
  }
  CHECK(&embedded_tables() == &tables);  // read once
}

TEST_CASE(
    "the reserve that fire rules ask for is stated for what hangs in a fire detection system, with its "
    "source") {
  for (const auto& [name, profile] : embedded_tables().profiles) {
    const auto& name_shown = name;
    CAPTURE(name_shown);
    const bool fire = name == "smoke" || name == "heat" || name == "call point";
    CHECK(profile.reserve_db == (fire ? 10 : 0));
    CHECK((profile.source.find("EN 54-25:2008") != std::string::npos) == fire);
    if (fire) CHECK(profile.source.find("not the standard itself") != std::string::npos);
  }
}

TEST_CASE("metal that is known by a measured loss states what it throws back") {
  const MaterialTable& materials = embedded_tables().materials;
  for (const char* name :
       {"metal wall", "steel door", "roller shutter", "sheet-metal floor", "metal roof", "container"}) {
    CAPTURE(name);
    CHECK(materials.at(name).reflects_percent == 95);
  }
  CHECK(materials.at("coated glazing").reflects_percent == 85);
  for (const char* name :
       {"concrete wall", "timber door", "double glazing", "brick", "steel sandwich panel"}) {
    CAPTURE(name);
    CHECK_FALSE(materials.at(name).reflects_percent);
  }
}

TEST_CASE("a measured wall throws back no more than it lets be") {
  const auto faults = [](const std::string& keys) {
    return fault_lines(parse_materials("materials:\n  wall: {" + keys + "}\n", "m.yaml", {}));
  };
  CHECK(faults("loss_db: 3, reflects_percent: 50") == "");  // 100.1 %: the loss is rounded
  CHECK(faults("loss_db: 3, reflects_percent: 51") ==
        "m.yaml:2:40: reflects_percent: 51 % thrown back and 50.1 % let through are more than arrives (its "
        "loss leaves "
        "49.9 at most)\n");
  CHECK(faults("loss_db: 0, reflects_percent: 1") == "");
  CHECK(faults("loss_db: 0, reflects_percent: 1.5") != "");
  CHECK(faults("loss_db: 0, leakage_db: 10, reflects_percent: 0") == "");
  CHECK(faults("loss_db: 20, reflects_percent: 99") == "");
  CHECK(faults("loss_db: 20, leakage_db: 10, reflects_percent: 92") ==
        "m.yaml:2:57: reflects_percent: 92 % thrown back and 11.0 % let through are more than arrives (its "
        "loss leaves "
        "89.0 at most)\n");
  // The least of several losses counts.
  const std::string losses =
      "losses: [{frequency_mhz: 500, loss_db: 20}, {frequency_mhz: 2000, loss_db: 10}]";
  CHECK(faults(losses + ", reflects_percent: 91") == "");
  CHECK(faults(losses + ", reflects_percent: 91.1") != "");
  // What is computed is not judged, nor what could not be read.
  CHECK(faults("electrical: {a: 5, b: 0, c: 0, d: 0, from_mhz: 1, to_mhz: 2}, reflects_percent: 100") == "");
  CHECK(faults("loss_db: 1000, reflects_percent: 100").find("more than arrives") == std::string::npos);
}

TEST_CASE("the starter is a sound site") {
  const auto site = parse_site(starter_text(), "starter.yaml", embedded_tables());
  CHECK(fault_lines(site) == "");
}

TEST_CASE("a file of materials stands on its base and replaces by name") {
  const MaterialTable base{{"brick", {"brick", MeasuredLoss{{{0, 8}}}, 3, {}, "", "", ""}},
                           {"wood", {"wood", MeasuredLoss{{{0, 2}}}, 3, {}, "", "", ""}}};
  const auto table =
      parse_materials("materials:\n  brick: {loss_db: 9}\n  tile: {loss_db: 1}\n", "m.yaml", base);
  REQUIRE(fault_lines(table) == "");
  CHECK(table->size() == 3);
  CHECK(std::get<MeasuredLoss>(table->at("brick").kind).points[0].loss_db == 9);
  CHECK(table->at("brick").sigma_db == 3);
  CHECK(std::get<MeasuredLoss>(table->at("wood").kind).points[0].loss_db == 2);
}

TEST_CASE("a file of materials brings along what readings taught, of its own rows and of those under it") {
  const MaterialTable& base = embedded_tables().materials;
  const auto learned =
      parse_materials("learned:\n  brick: {shift_db: 2.5, sigma_db: 1, readings: 12}\n", "m.yaml", base);
  REQUIRE(fault_lines(learned) == "");
  CHECK(learned->size() == base.size());
  CHECK(learned->at("brick").learned == LearnedShift{2.5, 1, 12});
  CHECK_FALSE(learned->at("concrete").learned);
  MaterialTable without = *learned;
  without.at("brick").learned.reset();
  CHECK(without == base);
  const auto both =
      parse_materials("learned: {tile: {shift_db: -1}}\nmaterials: {tile: {loss_db: 4}}\n", "m.yaml", base);
  REQUIRE(fault_lines(both) == "");
  CHECK(both->at("tile").learned == LearnedShift{-1, 0, 0});
  // A row that replaces the table's leaves behind what was learned of that.
  const auto site = parse_site(
      "site: s\nradio: {frequency_mhz: 868}\nmaterials: {brick: {loss_db: 9}}\n"
      "storeys: [{name: g, level_m: 0, height_m: 2}]\n"
      "hubs: {hub: {profile: hub, storey: g, at_m: [1, 1], height_m: 1}}\n",
      "s.yaml", Tables{*learned, embedded_tables().profiles});
  REQUIRE(fault_lines(site) == "");
  CHECK_FALSE(site->materials.at("brick").learned);
}

TEST_CASE("faults of what a file of materials brings along") {
  CHECK(fault_lines(parse_materials(
            "learned:\n  brik: {shift_db: 1}\n  brick: {shft_db: 1}\n  concrete: {shift_db: 70}\n", "m.yaml",
            embedded_tables().materials)) ==
        "m.yaml:2:9: unknown material 'brik' (did you mean 'brick'?)\n"
        "m.yaml:3:11: unknown key 'shft_db' (did you mean 'shift_db'?)\n"
        "m.yaml:4:24: shift_db: 70 is outside -60..60\n");
  CHECK(fault_lines(parse_materials("lerned: {}\n", "m.yaml", {})) ==
        "m.yaml:1:1: unknown key 'lerned' (did you mean 'learned'?)\n");
  CHECK(fault_lines(parse_materials("{}\n", "m.yaml", {})) ==
        "m.yaml:1:1: missing one of materials, learned\n");
}

TEST_CASE("all faults of a file of materials are told at once") {
  constexpr const char* text = R"(materials:
  brick: {loss_db: nine}
  tile: {layers: [{of: bric, thickness_m: 0.1}, {of: brick, thickness_m: 0.1}]}
  glass: 3
  none: {loss_db: 0}
profiles: {}
)";
  // brick could not be read, so what is made of it is not judged.
  CHECK(fault_lines(parse_materials(text, "m.yaml", {})) ==
        "m.yaml:2:20: loss_db: expected a number, found \"nine\"\n"
        "m.yaml:3:24: unknown material 'bric'\n"
        "m.yaml:4:10: glass: expected a map, found \"3\"\n"
        "m.yaml:5:3: the material 'none' is built in and cannot be given\n"
        "m.yaml:6:1: unknown key 'profiles'\n");
  CHECK(fault_lines(parse_materials("[]", "m.yaml", {})) == "m.yaml:1:1: expected a map, found a list\n");
  CHECK(fault_lines(parse_materials("", "m.yaml", {})) == "m.yaml:1:1: the file is empty\n");
}
