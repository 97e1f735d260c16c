#include "linkmargin/report/materials_report.hpp"

#include "linkmargin/base/range.hpp"
#include "linkmargin/link/building/transmission.hpp"
#include "linkmargin/report/document/write_csv.hpp"
#include "linkmargin/report/document/write_text.hpp"
#include "linkmargin/text/display_text.hpp"
#include "linkmargin/yaml/site/tables.hpp"

#include "fixtures/english.hpp"
#include "fixtures/text_search.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>

using namespace linkmargin;

namespace {

MaterialTable table() {
  MaterialTable table;
  table["door"] = {"door", MeasuredLoss{{{500e6, 2}, {2000e6, 4}}}, 1.5, {"door"}, "made up", "from memory",
                   ""};
  table["shell"] = {"shell", MeasuredLoss{{{0, 30}}}, 6, {}, "made up", "", "heavy"};
  table["stone"] = {
      "stone", ElectricalProperties{5, 0, 0.05, 0.8, 1e9, 10e9}, 3, {"wall", "layer"}, "made up", "", ""};
  table["cavity"] = {
      "cavity", BuildUp{{{"stone", 0.1}, {"air", 0.05}, {"stone", 0.1}}}, 3, {"wall"}, "made up", "", ""};
  return table;
}

}  // namespace

TEST_CASE("the list fits 100 columns and marks what is used outside its range") {
  MaterialTable materials = table();
  materials["shell"].source = std::string(300, 's');
  const std::string text = write_text(materials_document(fixture::english(), materials));
  CHECK(has(text, "\u2026"));
  for (const std::string& line : wrapped(text, 10000)) CHECK(display_width(line) <= 100);
  CHECK(has(text, "door       2.8 "));  // 2 + 2 ln(868.3/500) / ln(4) = 2.796
  CHECK(has(text, "* "));               // stone is stated from 1 GHz on
}

TEST_CASE("what lets nothing through is shown as no more than that, and given whole to programs") {
  MaterialTable materials = table();
  materials["shell"].kind = MeasuredLoss{{{0, 150}}};
  CHECK(has(write_text(materials_document(fixture::english(), materials)), " 150.0 "));
  materials["shell"].kind = MeasuredLoss{{{0, 151.25}}};
  CHECK(has(write_text(materials_document(fixture::english(), materials)), " >150 "));
  CHECK_FALSE(has(write_text(materials_document(fixture::english(), materials)), "151"));
  CHECK(has(write_text(material_document(fixture::english(), materials, "shell")),
            fixture::english().say("materials.opaque", {{"loss", "150 dB"}})));
  CHECK(has(write_csv(materials_rows(materials), {.precise = true}), ",151.25,"));
}

TEST_CASE("JSON and CSV give the loss that the links use") {
  const MaterialTable materials = table();
  const auto json = nlohmann::json::parse(materials_json(fixture::english(), materials));
  REQUIRE(json["materials"].size() == 4);
  for (const auto& material : json["materials"]) {
    Construction construction{material["material"], {}};
    if (material["kind"] == "electrical") construction.thickness_m = 0.1;
    const double loss_db = Transmission::of(construction, materials, 868.3e6).loss_db(1);
    CHECK(std::abs(material["loss_db"].get<double>() - loss_db) <= 1e-9);
  }
  CHECK(json["materials"][0]["material"] == "cavity");
  CHECK(json["materials"][0]["layers"].size() == 3);
  CHECK(std::abs(json["materials"][0]["thickness_m"].get<double>() - 0.25) <= 1e-9);
  CHECK(json["materials"][1]["losses"][0]["frequency_mhz"] == 500);
  CHECK(json["materials"][2]["losses"][0]["frequency_mhz"].is_null());
  CHECK(json["materials"][3]["out_of_range"].size() == 1);
  CHECK(write_csv(materials_rows(materials, {}, "shell")) ==
        "material,kind,frequency_mhz,thickness_m,loss_db,sigma_db,leakage_db,reflects_percent,"
        "min_frequency_mhz,max_frequency_mhz,use,source,verified,note,group\r\nshell,measured,868.3,,30,6,,"
        "20,,,,"
        "made up,,heavy,\r\n");
  CHECK(json["materials"][0]["leakage_db"] == 40);
  CHECK(json["materials"][1]["leakage_db"].is_null());
}

TEST_CASE("what a face throws back is what echoes count, stated or not") {
  MaterialTable materials = table();
  materials["shell"].reflects_percent = 92.25;
  const auto json = nlohmann::json::parse(materials_json(fixture::english(), materials));
  CHECK(json["materials"][2]["reflects_percent"] == 92.25);
  CHECK(json["materials"][1]["reflects_percent"] == 100 * kMasonryReflects);
  const double cavity = Transmission::of({"cavity", {}}, materials, 868.3e6).diffuse().reflected;
  CHECK(std::abs(json["materials"][0]["reflects_percent"].get<double>() - 100 * cavity) <= 1e-9);
  CHECK(has(write_csv(materials_rows(materials, {}, "shell"), {.precise = true}),
            "shell,measured,868.3,,30,6,,92.25,,,,made up,,heavy"));
  CHECK(has(write_text(material_document(fixture::english(), materials, "shell")), "92 %"));
  CHECK(has(write_text(material_document(fixture::english(), materials, "door")), "20 %"));
}

TEST_CASE("one material in detail") {
  CHECK(has(write_text(material_document(fixture::english(), table(), "door")), "500  2.00"));
  CHECK(has(write_text(material_document(fixture::english(), table(), "cavity")), "air"));
  CHECK(has(write_text(material_document(fixture::english(), table(), "cavity")), "40 dB"));
  CHECK_FALSE(has(write_text(material_document(fixture::english(), table(), "door")), "40 dB"));
  const std::string stone =
      write_text(material_document(fixture::english(), table(), "stone", {.frequency_hz = 2.4e9}));
  CHECK(has(stone, fixture::english().say("materials.properties",
                                          {{"a", "5"}, {"b", "0"}, {"c", "0.05"}, {"d", "0.8"}})));
  CHECK(has(stone, "75"));
  CHECK(!has(stone, "outside"));
}

TEST_CASE("a layer that a build-up has twice is told once to be outside its range") {
  const std::string text = write_text(material_document(fixture::english(), table(), "cavity"));
  const std::string said =
      fixture::english().say("materials.outside", {{"text", "stone (1000 to 10000 MHz)"}});
  REQUIRE(has(text, said));
  CHECK_FALSE(has(text.substr(text.find(said) + 1), said));
  CHECK(nlohmann::json::parse(
            materials_json(fixture::english(), table(), {}, "cavity"))["materials"][0]["out_of_range"]
            .size() == 1);
}

TEST_CASE("an unknown material is no answer") {
  CHECK_THROWS_AS(material_document(fixture::english(), table(), "brik"), DomainError);
}

TEST_CASE("the list goes by groups: which row for what, why they spread, and what loses least first") {
  MaterialTable materials = table();
  materials["stone"].group = materials["cavity"].group = "brick wall";
  materials["door"].group = "door";
  const std::string text = write_text(materials_document(fixture::english(), materials), {.width = 2000});
  const auto at = [&](const std::string& part) {
    const std::size_t place = text.find(part);
    CAPTURE(part);
    REQUIRE(place != std::string::npos);
    return place;
  };
  const Language& english = fixture::english();
  const std::string pick =
      english.say("materials.pick", {{"text", english.say("materials.group.brick_wall.pick")}});
  const std::string differ =
      english.say("materials.differ", {{"text", english.say("materials.group.brick_wall.differ")}});
  CHECK(at("brick wall\n") < at(pick));
  CHECK(at(pick) < at(differ));
  CHECK(at(differ) < at("\nstone "));
  CHECK(at("\nstone ") < at("\ncavity "));  // one leaf before two
  CHECK(at("\ncavity ") < at("\ndoor "));
  CHECK(at("\ndoor ") < at(english.say("materials.no_group")));
  CHECK(at(english.say("materials.no_group")) < at("\nshell "));
  const std::string one =
      write_text(material_document(fixture::english(), materials, "stone"), {.width = 2000});
  CHECK(has(one, english.say("materials.group_is", {{"text", "brick wall"}})));
  CHECK(has(one, english.say("materials.others", {{"text", "cavity "}})));
  CHECK_FALSE(has(write_text(material_document(fixture::english(), materials, "shell")),
                  english.say("materials.group_is", {{"text", ""}})));
  CHECK(nlohmann::json::parse(materials_json(fixture::english(), materials, {},
                                             "stone"))["materials"][0]["group"] == "brick wall");
}

TEST_CASE("a language with names of its own shows them beside what a site file names") {
  const MaterialTable& materials = embedded_tables().materials;
  const Language& german = built_in_language("de");
  CHECK(has(write_text(materials_document(german, materials)), german.material("brick") + "  "));
  CHECK(write_text(material_document(german, materials, "brick"))
            .starts_with(
                german.say("materials.named", {{"own", german.material("brick")}, {"name", "brick"}})));
  std::vector<std::string> names;
  for (const auto& row : materials) {
    const std::string& name = row.first;
    CAPTURE(name);
    if (name != "container") CHECK(german.material(name) != name);
    names.push_back(german.material(name));
  }
  std::ranges::sort(names);
  CHECK(std::ranges::adjacent_find(names) == names.end());
}

TEST_CASE("every group has its words, and they name rows of the built-in table alone") {
  const MaterialTable& materials = embedded_tables().materials;
  const auto check_rows = [&](std::string_view pick) {
    for (std::size_t open = pick.find('`'); open != std::string_view::npos; open = pick.find('`')) {
      pick.remove_prefix(open + 1);
      const std::string name(pick.substr(0, pick.find('`')));
      CAPTURE(name);
      CHECK((materials.contains(name) || name == "multi_wall"));
      pick.remove_prefix(name.size() + 1);
    }
  };
  for (const std::string& group : kMaterialGroups) {
    CAPTURE(group);
    std::string code = group;
    std::ranges::replace(code, ' ', '_');
    const auto words = [&](const char* tag, const char* key) {
      return built_in_language(tag).say("materials.group." + code + "." + key);
    };
    CHECK(words("en", "name") == group);
    for (const char* tag : {"en", "de"}) {
      CHECK(words(tag, "differ").ends_with("."));
      check_rows(words(tag, "pick"));
    }
    CHECK(std::ranges::any_of(materials, [&](const auto& row) { return row.second.group == group; }));
  }
  // A stud wall is lighter than any wall of brick.
  const auto loss_db = [&](const char* name, std::optional<double> thickness_m) {
    return Transmission::of({name, thickness_m}, materials, 868.3e6).loss_db(1);
  };
  for (const char* brick : {"brick", "cavity wall", "lined brick wall"})
    CHECK(loss_db("stud wall", {}) < loss_db(brick, 0.1));
}
