#include "linkmargin/yaml/tables.hpp"

#include "linkmargin/yaml/site_yaml.hpp"
#include "linkmargin/yaml/text_file.hpp"

#include "fault_lines.hpp"

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
    CAPTURE(name);
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
