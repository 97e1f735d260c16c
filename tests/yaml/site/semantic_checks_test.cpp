#include "linkmargin/yaml/site/semantic_checks.hpp"

#include "linkmargin/yaml/site/site_yaml.hpp"

#include "fixtures/fault_lines.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;

namespace {

/// A sound site, one line for each thing that the cases below replace.
const std::vector<std::string> kLines{
    "site: S",                                                                    // 1
    "radio: {frequency_mhz: 868}",                                                // 2
    "materials: {shell: {loss_db: 20}}",                                          // 3
    "profiles: {own: {erp_dbm: 10, class: fobs}}",                                // 4
    "storeys:",                                                                   // 5
    "  - name: ground",                                                           // 6
    "    height_m: 3",                                                            // 7
    "    level_m: 0",                                                             // 8
    "    outer_wall: {material: shell}",                                          // 9
    "    inner_wall: {material: brick, thickness_m: 0.1}",                        // 10
    "    rooms:",                                                                 // 11
    "      shop: {rect_m: [0, 0, 6, 4]}",                                         // 12
    "      hall: {rect_m: [6, 0, 6, 4]}",                                         // 13
    "    walls: [{name: fence, from_m: [0, 9], to_m: [9, 9], material: shell}]",  // 14
    "    openings:",                                                              // 15
    "      - {name: door, between: [hall, outside], at_m: [9, 0], width_m: 1, height_m: 2, leaf: "
    "none}",                                                                                        // 16
    "      - {name: gate, wall: fence, at_m: [3, 9], width_m: 1, height_m: 1, leaf: shell}",        // 17
    "  - {name: upper, level_m: 3, height_m: 3}",                                                   // 18
    "hubs: {hub: {profile: hub, storey: ground, at_m: [1, 1], height_m: 1, capacity: {fobs: 1}}}",  // 19
    "devices: {fob: {profile: own, storey: ground, at_m: [2, 1], height_m: 1, may_move: {within: "
    "shop}}}",  // 20
};

using Changes = std::vector<std::pair<std::size_t, std::string>>;

std::string faults_with(const Changes& changes) {
  auto lines = kLines;
  for (const auto& [number, line] : changes) lines[number - 1] = line;
  std::string text;
  for (const std::string& line : lines) text += line + "\n";
  return fault_lines(parse_site(text, "s", embedded_tables()));
}

}  // namespace

TEST_CASE("the site that the cases change is sound") {
  CHECK(faults_with({}) == "");
}

TEST_CASE("a value that cannot be read does not bring a second fault with it") {
  // A room without a shape: no wall for the opening, no place for the radio, no gap between rooms.
  CHECK(faults_with({{13, "      hall: {rect_m: wide}"}}) ==
        "s:13:22: rect_m: expected [x, y, width, depth], found \"wide\"\n");
  CHECK(faults_with({{12, "      shop: {}"}}) ==
        "s:12:13: missing one of size_m, rect_m, corners_m in room 'shop'\n");
  CHECK(faults_with({{14, "    walls: [{name: fence, from_m: [0, 9], to_m: 9, material: shell}]"}}) ==
        "s:14:49: to_m: expected [x, y], found \"9\"\n");
  // Heights: of the storey under another, of an opening in it, of a radio in it.
  CHECK(faults_with({{7, "    height_m: low"}}) == "s:7:15: height_m: expected a number, found \"low\"\n");
  CHECK(faults_with({{8, "    level_m: high"}}) == "s:8:14: level_m: expected a number, found \"high\"\n");
  // A profile without its power or its class, a hub without its name.
  CHECK(faults_with({{4, "profiles: {own: {erp_dmb: 10, sensitivity_dbm: -100, class: fobs}}"}}) ==
        "s:4:18: unknown key 'erp_dmb' (did you mean 'erp_dbm'?)\n");
  CHECK(faults_with({{4, "profiles: {own: {erp_dbm: 10, clas: fobs}}"}}) ==
        "s:4:31: unknown key 'clas' (did you mean 'class'?)\n");
  CHECK(
      faults_with(
          {{20, "devices: {fob: {profile: own, storey: ground, at_m: [2, 1], height_m: 1, hub: [hub]}}"}}) ==
      "s:20:79: hub: expected a name, found a list\n");
}

TEST_CASE("names whose section cannot be read are not called unknown") {
  CHECK(faults_with({{3, "materails: {shell: {loss_db: 20}}"}}) ==
        "s:3:1: unknown key 'materails' (did you mean 'materials'?)\n");
  CHECK(faults_with({{3, "materials: [shell]"}}) ==
        "s:3:12: materials: expected a map of names, found a list\n");
  CHECK(faults_with({{4, "profiles: own"}}) == "s:4:11: profiles: expected a map of names, found \"own\"\n");
  CHECK(faults_with({{6, "  - nmae: ground"}}) == "s:6:5: unknown key 'nmae' (did you mean 'name'?)\n");
  CHECK(faults_with({{14, "    wals: [{name: fence, from_m: [0, 9], to_m: [9, 9], material: shell}]"}}) ==
        "s:14:5: unknown key 'wals' (did you mean 'walls'?)\n");
}

TEST_CASE("a fault elsewhere hides no finding") {
  const std::string stray = "s:2:29: unknown key 'colour'\n";
  const std::pair<std::size_t, std::string> radio{2, "radio: {frequency_mhz: 868, colour: red}"};
  CHECK(faults_with({radio, {13, "      hall: {rect_m: [5, 0, 6, 4]}"}}) ==
        stray +
            "s:13:13: rooms 'shop' and 'hall' overlap by 1.00 m, over 4.00 m of their common side (one of "
            "them is 1.00 m too wide, or that much too far to the side)\n");
  // The same storey, and even the same item, where the value in doubt has no part in the finding.
  CHECK(faults_with({{9, "    outer_wall: {material: shel, thickness_m: thick}"}}) ==
        "s:9:28: unknown material 'shel' (did you mean 'shell'?)\n"
        "s:9:47: thickness_m: expected a number, found \"thick\"\n");
  CHECK(faults_with({{7, "    height_m: low"},
                     {16,
                      "      - {name: door, between: [hal, outside], at_m: [9, 0], width_m: 1, height_m: 2, "
                      "leaf: none}"}}) ==
        "s:7:15: height_m: expected a number, found \"low\"\n"
        "s:16:32: unknown room 'hal' (did you mean 'hall'?)\n");
  CHECK(faults_with({{13, "      hall: {rect_m: [6, 0, 6, 4], colour: red}"},
                     {16,
                      "      - {name: door, between: [hall, outside], at_m: [9, 1], width_m: 1, height_m: 2, "
                      "leaf: none}"}}) ==
        "s:13:36: unknown key 'colour'\n"
        "s:16:54: opening 'door' does not lie on a wall between 'hall' and 'outside': 1.00 m away from it\n");
  CHECK(faults_with({{10, "    inner_wall: {material: brick}"}, radio}) ==
        stray + "s:10:28: 'brick' is given by its electrical properties and needs a thickness_m\n");
  CHECK(faults_with({{20, "devices: {hub: {profile: own, storey: ground, at_m: here, height_m: 1}}"}}) ==
        "s:20:16: 'hub' is the name of a hub already (hubs, repeaters and devices need names of their own)\n"
        "s:20:53: at_m: expected [x, y], found \"here\"\n");
}

TEST_CASE("a finding on a row of the embedded table stands at the section") {
  // Plasterboard, replaced by a measured loss, can be no layer of the built-in partition, which has two of
  // it.
  const std::pair<std::size_t, std::string> replaced{
      3, "materials: {shell: {loss_db: 20}, plasterboard: {loss_db: 2}}"};
  CHECK(faults_with({replaced}) == "");
  CHECK(faults_with({replaced, {10, "    inner_wall: {material: board partition}"}}) ==
        "s:3:12: a layer needs electrical properties, which 'plasterboard' does not have (layers are "
        "materials with "
        "'electrical', or air)\n");
}
