#include "linkmargin/yaml/site/site_yaml.hpp"
#include "linkmargin/yaml/writer/first_site.hpp"
#include "linkmargin/yaml/writer/long_form.hpp"
#include "linkmargin/yaml/writer/site_edit.hpp"

#include "fixtures/fault_lines.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

using namespace linkmargin;

namespace {

const std::string kInFeet = R"(site: house
radio: {frequency_mhz: 868.3}
units: {length: ft}
construction: brick 1930s
storeys:
  - name: ground
    height_m: 8'
    inner_wall: brick 4 1/2 in
    rooms:
      hall: {size_m: [6'6", 16], sockets: ["left wall, 2' from bottom"]}
      shop: {size_m: [20.5, 500cm], left_of: hall, walls: brick 9in}
    openings:
      - {name: street front door, in: hall, wall: bottom, from_left_m: 1' 3"}
hubs:
  hub: {in: shop, at: corner top left, height_m: 6}
devices:
  hall keypad: {in: hall, at: "right wall, 4' 6 1/2\" from bottom"}
  hall smoke:  {in: hall, at: [1, 2.5]}
  shop motion: {in: shop, at: 1ft from left and 6in from top, height_m: 2.2m}
)";

/// The same in metres.
const std::string kInMetres = R"(site: house
radio: {frequency_mhz: 868.3}
construction: brick 1930s
storeys:
  - name: ground
    height_m: 2.4384
    inner_wall: brick 0.1143 m
    rooms:
      hall: {size_m: [1.9812, 4.8768], sockets: ["left wall, 0.6096 m from bottom"]}
      shop: {size_m: [6.2484, 5], left_of: hall, walls: brick 0.2286 m}
    openings:
      - {name: street front door, in: hall, wall: bottom, from_left_m: 0.381}
hubs:
  hub: {in: shop, at: corner top left, height_m: 1.8288}
devices:
  hall keypad: {in: hall, at: "right wall, 1.3843 m from bottom"}
  hall smoke:  {in: hall, at: [0.3048, 0.762]}
  shop motion: {in: shop, at: 0.3048 m from left and 0.1524 m from top, height_m: 2.2}
)";

Site site_in_units(const std::string& text) {
  const auto site = parse_site(text, "f", embedded_tables());
  CHECK(fault_lines(site) == "");
  REQUIRE(site);
  return *site;
}

std::string faults_with(const std::string& from, const std::string& to) {
  std::string text = kInFeet;
  text.replace(text.find(from), from.size(), to);
  return fault_lines(parse_site(text, "f", embedded_tables()));
}

bool nearly(Point2 a, Point2 b) {
  return distance(a, b) < 3e-4;
}

}  // namespace

TEST_CASE("A file in feet and inches is the file in metres") {
  const Site feet = site_in_units(kInFeet);
  const Site metres = site_in_units(kInMetres);
  CHECK(feet.units.length == LengthUnit::foot);
  const Storey& one = feet.storeys.front();
  const Storey& other = metres.storeys.front();
  CHECK(one.height_m == doctest::Approx(other.height_m).epsilon(1e-12));
  CHECK(*one.inner_wall.thickness_m == doctest::Approx(*other.inner_wall.thickness_m).epsilon(1e-12));
  REQUIRE(one.rooms.size() == other.rooms.size());
  for (std::size_t i = 0; i < one.rooms.size(); ++i) {
    REQUIRE(one.rooms[i].corners.size() == other.rooms[i].corners.size());
    for (std::size_t k = 0; k < one.rooms[i].corners.size(); ++k)
      CHECK(nearly(one.rooms[i].corners[k], other.rooms[i].corners[k]));
  }
  CHECK(nearly(one.openings.front().at, other.openings.front().at));
  CHECK(feet.hubs.front().place.height_m == doctest::Approx(1.8288).epsilon(1e-12));
  for (std::size_t i = 0; i < feet.devices.size(); ++i) {
    CAPTURE(feet.devices[i].name);
    CHECK(nearly(feet.devices[i].place.at, metres.devices[i].place.at));
  }
  CHECK(feet.devices[2].place.height_m == 2.2);
}

TEST_CASE("A metric file takes units of its own beside bare figures") {
  std::string text = kInMetres;
  text.replace(text.find("2.4384"), 6, "8'    ");
  text.replace(text.find("[6.2484, 5]"), 11, "[6248.4 mm, 500cm]");
  CHECK(site_in_units(text).storeys.front().rooms[1].corners ==
        site_in_units(kInMetres).storeys.front().rooms[1].corners);
}

TEST_CASE("Faults in a file in feet speak in feet") {
  CHECK(faults_with("height_m: 8'", "height_m: 240") ==
        "f:7:15: height_m: 240 is outside 1'7⅝\"..196'10¼\" (did you mean 240in, which is 20'?)\n");
  CHECK(faults_with("1' 3\"", "5'") ==
        "f:13:72: from_left_m: 5' and a width of 2'11⅜\" reach beyond the end of the wall, which is 6'6\" "
        "long (from_left_m may be 3'6½\" at most; without it the opening is in the middle)\n");
  CHECK(faults_with("20.5, 500cm", "20 yards, 5") ==
        "f:11:23: size_m: expected a number, found \"20 yards\" (a length reads 2.65, 265cm, 8'8\" or "
        "8.7ft)\n");
  CHECK(faults_with("{length: ft}", "{length: feet}")
            .find("f:3:17: length: expected one of m, ft, found \"feet\"") == 0);
}

TEST_CASE("The long form of a file in feet says metres with their unit, and is the same site") {
  const auto text = long_form(kInFeet, "f", embedded_tables());
  CHECK(fault_lines(text) == "");
  REQUIRE(text);
  CHECK(text->find("units: {length: ft}") != std::string::npos);
  CHECK(text->find("height_m: 2.4384m") != std::string::npos);
}

TEST_CASE("Edits of a file in feet are written in metres with their unit") {
  const std::vector<Edit> edits{{"/hubs/hub/height_m", 1.9},
                                {"/devices/hall smoke/height_m", 2.3},
                                {"/repeaters/r", NewRadio{"repeater", "ground", {-1, 1}, 2, {}}}};
  const auto text = edited_text(kInFeet, "f", edits, embedded_tables(), nullptr);
  CHECK(fault_lines(text) == "");
  REQUIRE(text);
  CHECK(text->find("height_m: 1.9m}") != std::string::npos);
  CHECK(text->find("at_m: [-1m, 1m], height_m: 2m") != std::string::npos);
}

TEST_CASE("Rooms of a first file may be in feet") {
  const auto text = first_site("hall 6'6\"x16', shop 20'x16'6\" left of hall", embedded_tables());
  CHECK(fault_lines(text) == "");
  REQUIRE(text);
  CHECK(text->find("units: {length: ft}\n") != std::string::npos);
  CHECK(text->find("      hall: {size_m: [6'6\", 16']}\n") != std::string::npos);
  CHECK(site_in_units(*text).storeys.front().rooms[0].corners[2].x == doctest::Approx(1.9812).epsilon(1e-4));
}

TEST_CASE("A ceiling is the floor of the rooms over it, and the roof where there are none") {
  const auto house = [](const std::string& garage, const std::string& upper) {
    return "site: house\nradio: {frequency_mhz: 868.3}\nconstruction: brick 1930s\nstoreys:\n"
           "  - name: ground\n    height_m: 2.5\n    rooms:\n      hall: {size_m: [2, 6]}\n      garage: "
           "{size_m: "
           "[3, 6], right_of: hall" +
           garage + "}\n  - name: upper\n    height_m: 2.4\n    rooms:\n      landing: {over: hall}\n      " +
           upper + "\nhubs: {hub: {in: hall, at: centre}}\n";
  };
  const Site site = site_in_units(house(", ceiling: concrete 0.2 m", "bedroom: {over: garage}"));
  CHECK(site.storeys[0].rooms[1].roof == Construction{"concrete", 0.2});
  CHECK(site.storeys[1].rooms[1].floor == Construction{"concrete", 0.2});
  CHECK_FALSE(site.storeys[1].rooms[0].floor);
  const Site own =
      site_in_units(house(", ceiling: concrete 0.2 m", "bedroom: {over: garage, floor: timber floor}"));
  CHECK(own.storeys[1].rooms[1].floor == Construction{"timber floor", {}});
  CHECK(fault_lines(parse_site(house(", ceiling: concrete 0.2 m",
                                     "bedroom: {size_m: [3, 6], right_of: landing, "
                                     "flush: bottom, shift_m: 3}"),
                               "f", embedded_tables())) ==
        "f:9:57: ceiling: 'bedroom' lies over 'garage' in part only (say the floor of 'bedroom' at "
        "'bedroom')\n");
}

TEST_CASE("Areas lie in rooms or beside them") {
  const std::string house =
      "site: house\nradio: {frequency_mhz: 868.3}\nconstruction: brick 1930s\nstoreys:\n"
      "  - name: ground\n    height_m: 2.5\n    rooms:\n      hall: {size_m: [2, 6]}\n      garage: {size_m: "
      "[3, 6], "
      "right_of: hall}\nhubs: {hub: {in: hall, at: centre}}\nareas:\n";
  const Site site = site_in_units(house +
                                  "  drive fob: {size_m: [3, 5], below: garage}\n"
                                  "  indoor fob: {in: [hall, garage]}\n"
                                  "  hall fob: {in: hall}\n");
  CHECK(site.areas[0].profile == "fob");
  CHECK(site.areas[0].corners == rectangle({2, -5}, 3, 5));
  CHECK(bounding_box(site.areas[1].corners).max == Point2{5, 6});
  CHECK(site.areas[2].corners == site.storeys[0].rooms[0].corners);
  const auto faults = [&](const std::string& area) {
    return fault_lines(parse_site(house + "  fob: " + area + "\n", "f", embedded_tables()));
  };
  CHECK(faults("{in: hal}") == "f:12:13: in: unknown room 'hal' (did you mean 'hall'?)\n");
  CHECK(faults("{size_m: [3, 5]}") ==
        "f:12:8: missing one of left_of, right_of, above, below in area 'fob'\n");
  CHECK(faults("{in: hall, below: garage}") == "f:12:26: below: goes with size_m\n");
  CHECK(faults("{}") == "f:12:8: missing one of in, size_m, rect_m, corners_m in area 'fob'\n");
}

TEST_CASE("Of one slip in a room one fault is told, and how many follow from it") {
  const std::string text =
      "site: house\nradio: {frequency_mhz: 868.3}\nconstruction: brick 1930s\nstoreys:\n"
      "  - name: ground\n    height_m: 2.5\n    rooms:\n"
      "      hall: {rect_m: [0, 0, 2.3, 6]}\n      shop: {rect_m: [2, 0, 4, 3]}\n      den: {rect_m: [2, 3, "
      "4, 3]}\n"
      "    openings:\n      - {name: a, between: [hall, shop], at_m: [2, 1], kind: inner door}\n"
      "  - name: upper\n    height_m: 2.5\n    rooms:\n      landing: {over: hall}\n      bedroom: {over: "
      "shop}\n"
      "hubs: {hub: {in: den, at: centre}}\n";
  CHECK(fault_lines(parse_site(text, "f", embedded_tables())) ==
        "f:9:13: rooms 'hall' and 'shop' overlap by 0.30 m, over 3.00 m of their common side (one of them is "
        "0.30 m "
        "too wide, or that much too far to the side; 3 more faults about these rooms may follow from it)\n");
}
