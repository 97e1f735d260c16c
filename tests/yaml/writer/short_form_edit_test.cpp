#include "linkmargin/yaml/site/site_yaml.hpp"
#include "linkmargin/yaml/tree/text_file.hpp"
#include "linkmargin/yaml/writer/long_form.hpp"
#include "linkmargin/yaml/writer/site_edit.hpp"

#include "fixtures/fault_lines.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

using namespace linkmargin;

namespace {

const std::string kHouse = R"(site: house
radio: {frequency_mhz: 868.3}
construction: solid brick
storeys:
  - name: ground
    height_m: 2.5
    rooms:
      hall: {size_m: [2, 5]}
      shop: {size_m: [6, 4], left_of: hall}
    openings:
      - {name: street door, in: hall, wall: bottom, kind: front door, from_left_m: 0.2}
  - name: upper
    height_m: 2.4
    rooms:
      landing: {over: hall}
hubs:
  hub: {in: shop, at: corner top left}      # behind the counter
devices:
  street door contact: {on: street door}
  hall smoke: {in: hall}
  shop motion:
    in: shop
    at: corner bottom left
    may_move: {radius_m: 0.5}
)";

struct Written {
  std::string text;
  std::vector<std::string> as_figures;
};

/// An edit written into the house, which must then read as edited.
Written with(const std::string& path, EditValue value) {
  const std::vector<Edit> edits{{path, std::move(value)}};
  Written written;
  const auto text = edited_text(kHouse, "house.yaml", edits, embedded_tables(), &written.as_figures);
  CHECK(fault_lines(text) == "");
  REQUIRE(text);
  written.text = *text;
  const auto before = parse_site(kHouse, "house.yaml", embedded_tables());
  REQUIRE(before);
  const auto after = parse_site(written.text, "house.yaml", embedded_tables());
  REQUIRE(after);
  CHECK(*after == *edited_site(*before, edits));
  return written;
}

bool holds(const Written& written, const std::string& line) {
  return written.text.find(line + "\n") != std::string::npos;
}

}  // namespace

TEST_CASE("A radio moved within its room stays in words") {
  const Written written = with("/hubs/hub/at_m", Point2{-3, 1.25});
  CHECK(holds(written, "  hub: {in: shop, at: [3, 1.25]}      # behind the counter"));
  CHECK(written.as_figures.empty());
}

TEST_CASE("A radio moved out of its room gets coordinates, and that is told") {
  const Written written = with("/hubs/hub/at_m", Point2{1, 4.5});
  CHECK(
      holds(written,
            "  hub: {profile: hub, storey: ground, at_m: [1, 4.5], height_m: 2}      # behind the counter"));
  CHECK(written.as_figures == std::vector<std::string>{"/hubs/hub"});
  const Written lines = with("/devices/shop motion/at_m", Point2{1, 4.5});
  CHECK(holds(lines,
              "    profile: motion\n    storey: ground\n    at_m: [1, 4.5]\n    height_m: 2.2\n    may_move: "
              "{radius_m: 0.5}"));
  const Written contact = with("/devices/street door contact/at_m", Point2{0.1, 0.1});
  CHECK(holds(contact,
              "  street door contact: {profile: contact, storey: ground, at_m: [0.1, 0.1], height_m: 2}"));
}

TEST_CASE("Another storey or height of a radio in words") {
  const Written storey = with("/hubs/hub/storey", std::string("upper"));
  CHECK(storey.as_figures == std::vector<std::string>{"/hubs/hub"});
  const Written height = with("/devices/hall smoke/height_m", 2.3);
  CHECK(holds(height, "  hall smoke: {in: hall, height_m: 2.3}"));
  CHECK(height.as_figures.empty());
}

TEST_CASE("What follows from an edited value is written as figures") {
  const Written height = with("/storeys/ground/height_m", 2.6);
  CAPTURE(height.text);
  REQUIRE(height.as_figures.size() == 3);
  CHECK(height.as_figures.front() == "/storeys/upper/level_m");
  CHECK(height.as_figures[1] == "/storeys/ground/level_m");
  CHECK(height.as_figures.back() == "/devices/hall smoke/height_m");
  CHECK(height.text.find("level_m: 2.75") != std::string::npos);
  const Written width = with("/storeys/ground/openings/street door/width_m", 1.0);
  CHECK(width.text.find("at_m: [0.65, 0]") != std::string::npos);
  CHECK(width.text.find("from_left_m") == std::string::npos);
}

TEST_CASE("Walls of a construction are written where they are edited") {
  const Written wall = with("/storeys/ground/outer_wall/material", std::string("stone"));
  CHECK(wall.text.find("outer_wall: {material: stone, thickness_m: 0.215}") != std::string::npos);
  CHECK(wall.text.find("construction: solid brick") != std::string::npos);
}

TEST_CASE("The long form reads as the same site and has coordinates everywhere") {
  const auto text = long_form(kHouse, "house.yaml", embedded_tables());
  CHECK(fault_lines(text) == "");
  REQUIRE(text);
  for (const char* key : {"size_m", "left_of", "over:", " in:", " on:", "construction", "kind"}) {
    CAPTURE(key);
    CHECK(text->find(key) == std::string::npos);
  }
  CHECK(text->find("  hub: {profile: hub, storey: ground, at_m: [-5.9, 3.9], height_m: 2}      # behind the "
                   "counter") != std::string::npos);
  const auto again = long_form(*text, "house.yaml", embedded_tables());
  REQUIRE(again);
  CHECK(*again == *text);
}

TEST_CASE("The long form says at each storey what the house said once, and gives areas coordinates") {
  std::string house = kHouse;
  house.replace(house.find("construction:"), 0,
                "outer_wall: brick 0.3 m\ninner_wall: brick 0.12 m\nmeasured: inside\n");
  house +=
      "areas:\n"
      "  drive fob: {size_m: [6, 5], below: house, slots: 2}   # two cars\n"
      "  shop fob: {in: [hall, shop], share_percent: 90}\n"
      "  yard fob: {storey: ground, rect_m: [0, 9, 3, 3]}\n";
  const auto text = long_form(house, "house.yaml", embedded_tables());
  CHECK(fault_lines(text) == "");
  REQUIRE(text);
  CAPTURE(*text);
  CHECK(text->find("measured") == std::string::npos);
  CHECK(text->find("    outer_wall: {material: brick, thickness_m: 0.3}\n") != std::string::npos);
  CHECK(
      text->find("drive fob: {profile: fob, storey: ground, rect_m: [-6.36, -5.15, 6, 5], slots: 2}   # two "
                 "cars\n") != std::string::npos);
  CHECK(text->find("shop fob: {profile: fob, storey: ground, corners_m: [[") != std::string::npos);
  CHECK(text->find("share_percent: 90") != std::string::npos);
  CHECK(text->find("  yard fob: {storey: ground, rect_m: [0, 9, 3, 3]}\n") != std::string::npos);
}

TEST_CASE("The long form of every demo site reads as that site") {
  for (const std::string name :
       {LINKMARGIN_DATA "/sites/kiln-lane.yaml", LINKMARGIN_DATA "/sites/corner-kiosk.yaml",
        LINKMARGIN_TEST_DATA "/fixtures/kiln-lane-short.yaml"}) {
    CAPTURE(name);
    const auto bytes = read_text_file(name);
    REQUIRE(bytes);
    const auto text = long_form(*bytes, name, embedded_tables());
    CHECK(fault_lines(text) == "");
    REQUIRE(text);
    CHECK(*parse_site(*text, name, embedded_tables()) == *parse_site(*bytes, name, embedded_tables()));
  }
  const auto starter = long_form(starter_text(), "starter.yaml", embedded_tables());
  CHECK(fault_lines(starter) == "");
}

TEST_CASE("A faulty file has no long form") {
  const auto text = long_form("site: x\n", "x.yaml", embedded_tables());
  REQUIRE_FALSE(text);
  CHECK(text.error().front().code == DiagnosticCode::missing_key);
}
