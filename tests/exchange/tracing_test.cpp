#include "linkmargin/exchange/drawing_unit.hpp"
#include "linkmargin/exchange/dxf/dxf_drawing.hpp"
#include "linkmargin/exchange/geojson/geojson_drawing.hpp"
#include "linkmargin/exchange/tracing/traced_plan.hpp"
#include "linkmargin/exchange/writer/plan_dxf.hpp"
#include "linkmargin/exchange/writer/plan_geojson.hpp"
#include "linkmargin/yaml/exchange/traced_site.hpp"
#include "linkmargin/yaml/site/site_yaml.hpp"
#include "linkmargin/yaml/tree/text_file.hpp"

#include "fixtures/dxf_text.hpp"
#include "fixtures/fault_lines.hpp"
#include "fixtures/random_house.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>

using namespace linkmargin;
using namespace linkmargin::exchange;

namespace {

TracedPlan traced(std::vector<Drawing> drawings) {
  const auto plan = traced_plan(std::move(drawings), {}, "m");
  CHECK(fault_lines(plan) == "");
  REQUIRE(plan);
  return *plan;
}

TracedPlan traced_dxf(const std::string& text) {
  const auto drawing = parse_dxf(text, "m");
  CHECK(fault_lines(drawing) == "");
  REQUIRE(drawing);
  Drawing in_m = *drawing;
  in_m.unit_m = in_m.unit_m.value_or(1);
  return traced({*in_metres(in_m, {}, "m")});
}

std::map<std::string, double> areas(const std::vector<Room>& rooms) {
  std::map<std::string, double> result;
  for (const Room& room : rooms) result[room.name] = std::abs(signed_area(room.corners));
  return result;
}

void check_same_rooms(const std::vector<Room>& wanted, const std::vector<Room>& got) {
  const auto want = areas(wanted), have = areas(got);
  CHECK(want.size() == have.size());
  for (const auto& room : want) {
    CAPTURE(room.first);
    const auto found = have.find(room.first);
    REQUIRE(found != have.end());
    CHECK(std::abs(found->second - room.second) < 0.02);
  }
}

/// The traced file must read as a site too.
void check_reads(const TracedPlan& plan) {
  CHECK(fault_lines(traced_site(plan, "house", "m", embedded_tables())) == "");
}

Site demo() {
  const auto text = read_text_file(LINKMARGIN_DATA "/sites/kiln-lane.yaml");
  REQUIRE(text);
  const auto site = parse_site(*text, "m", embedded_tables());
  REQUIRE(site);
  return *site;
}

}  // namespace

TEST_CASE("The demo site drawn as DXF and as GeoJSON has the same rooms when it is traced") {
  const Site site = demo();
  for (std::size_t storey = 0; storey < site.storeys.size(); ++storey) {
    const TracedPlan plan = traced_dxf(plan_dxf(site, storey));
    check_same_rooms(site.storeys[storey].rooms, plan.storeys.front().rooms);
    CHECK(plan.storeys.front().openings.size() + plan.openings_left_out ==
          site.storeys[storey].openings.size());
    check_reads(plan);
  }
  const auto levels = parse_geojson(plan_geojson(site), "m");
  CHECK(fault_lines(levels) == "");
  REQUIRE(levels);
  const TracedPlan plan = traced(*levels);
  REQUIRE(plan.storeys.size() == site.storeys.size());
  for (std::size_t storey = 0; storey < site.storeys.size(); ++storey)
    check_same_rooms(site.storeys[storey].rooms, plan.storeys[storey].rooms);
  check_reads(plan);
}

TEST_CASE("100 random houses keep their rooms and openings over DXF and GeoJSON") {
  for (std::uint64_t seed = 0; seed < 100; ++seed) {
    CAPTURE(seed);
    const Site site = random_house(seed);
    const TracedPlan over_dxf = traced_dxf(plan_dxf(site, 0));
    check_same_rooms(site.storeys[0].rooms, over_dxf.storeys[0].rooms);
    CHECK(over_dxf.storeys[0].openings.size() == site.storeys[0].openings.size());
    check_reads(over_dxf);
    const auto levels = parse_geojson(plan_geojson(site), "m");
    REQUIRE(levels);
    check_same_rooms(site.storeys[0].rooms, traced(*levels).storeys[0].rooms);
  }
}

TEST_CASE("100 random houses drawn by the faces of their walls are traced to the middle of the walls") {
  for (std::uint64_t seed = 0; seed < 100; ++seed) {
    CAPTURE(seed);
    const Site site = random_house(seed);
    const double turn_rad = seed % 2 == 0 ? 0 : 0.07 * static_cast<double>(seed);
    const TracedPlan plan = traced_dxf(faces_dxf(site, turn_rad));
    CHECK(plan.double_walls == 1);
    check_same_rooms(site.storeys[0].rooms, plan.storeys[0].rooms);
    REQUIRE(plan.storeys[0].outer_wall_m);
    CHECK(std::abs(*plan.storeys[0].outer_wall_m - *site.storeys[0].outer_wall.thickness_m) < 0.006);
    check_reads(plan);
  }
}

TEST_CASE("Two leaves and a cavity are one wall, a narrow corridor is none") {
  DxfText dxf;
  const auto ring = [&](double off) {
    dxf.polyline("wall", {{-off, -off}, {6 + off, -off}, {6 + off, 4 + off}, {-off, 4 + off}});
  };
  for (const double off : {0.0, 0.1, 0.16, 0.27}) ring(off);
  dxf.polyline("wall", {{2.9, 0}, {3, 0}, {3, 4}, {2.9, 4}});          // two walls of 10 cm,
  dxf.polyline("wall", {{3.85, 0}, {3.95, 0}, {3.95, 4}, {3.85, 4}});  // 85 cm apart
  const TracedStorey storey = traced_dxf(dxf.whole()).storeys[0];
  REQUIRE(storey.rooms.size() == 3);
  REQUIRE(storey.outer_wall_m);
  REQUIRE(storey.inner_wall_m);
  CHECK(*storey.outer_wall_m == 0.27);
  CHECK(*storey.inner_wall_m == 0.1);
  std::vector<double> found;
  for (const Room& room : storey.rooms) found.push_back(std::abs(signed_area(room.corners)));
  std::ranges::sort(found);
  CHECK(std::abs(found[0] - 0.95 * 4.27) < 0.01);
  CHECK(std::abs(found[1] - (6.135 - 3.9) * 4.27) < 0.01);
  CHECK(std::abs(found[2] - (2.95 + 0.135) * 4.27) < 0.01);
}

TEST_CASE("Gaps as wide as a door are doors, a swing makes one of a wall that goes on") {
  DxfText dxf;
  dxf.polyline("wall", {{0, 0}, {8, 0}, {8, 4}, {0, 4}});
  dxf.line("wall", {4, 0}, {4, 1});
  dxf.line("wall", {4, 1.9}, {4, 4.05});  // 5 cm too long
  dxf.arc("door", {1, 0}, 0.9, 0, 90);
  dxf.line("door", {1, 0}, {1, 0.9});
  dxf.line("window", {5, 4}, {6.5, 4});
  const TracedPlan plan = traced_dxf(dxf.whole());
  const TracedStorey& storey = plan.storeys[0];
  REQUIRE(storey.rooms.size() == 2);
  REQUIRE(storey.openings.size() == 3);
  CHECK(storey.openings[0].kind == "front door");
  CHECK(distance(storey.openings[0].at, {1.45, 0}) < 0.001);
  CHECK(std::abs(storey.openings[0].width_m - 0.9) < 0.001);
  CHECK(storey.openings[1].kind == "window");
  CHECK(distance(storey.openings[1].at, {5.75, 4}) < 0.001);
  CHECK(storey.openings[2].kind == "passage");
  CHECK_FALSE(storey.openings[2].drawn);
  CHECK(distance(storey.openings[2].at, {4, 1.45}) < 0.001);
  check_reads(plan);
}

TEST_CASE("A gap that is no door's leaves the room open") {
  for (const double gap : {0.5, 1.5}) {
    DxfText dxf;
    dxf.polyline("wall", {{0, 0}, {8, 0}, {8, 4}, {0, 4}});
    dxf.line("wall", {4, 0}, {4, 1});
    dxf.line("wall", {4, 1 + gap}, {4, 4});
    CHECK(traced_dxf(dxf.whole()).storeys[0].rooms.size() == 1);
  }
}

TEST_CASE("Edges of rooms without a wall become open boundaries") {
  DxfText dxf;
  dxf.polyline("wall", {{0, 0}, {8, 0}, {8, 4}, {0, 4}});
  dxf.polyline("room", {{0, 0}, {5, 0}, {5, 4}, {0, 4}});
  dxf.polyline("room", {{5, 0}, {8, 0}, {8, 4}, {5, 4}});
  dxf.text("names", {2, 2}, "living");
  dxf.text("names", {6, 2}, "dining");
  const TracedStorey storey = traced_dxf(dxf.whole()).storeys[0];
  CHECK(areas(storey.rooms) == std::map<std::string, double>{{"living", 20}, {"dining", 12}});
  REQUIRE(storey.boundaries.size() == 1);
  CHECK(storey.boundaries[0].open);
}

TEST_CASE("A room inside another is kept: the one round it is cut open") {
  DxfText dxf;
  dxf.polyline("wall", {{0, 0}, {9, 0}, {9, 9}, {0, 9}});
  dxf.polyline("wall", {{3, 3}, {6, 3}, {6, 6}, {3, 6}});
  const TracedPlan plan = traced_dxf(dxf.whole());
  double total = 0;
  for (const Room& room : plan.storeys[0].rooms) total += std::abs(signed_area(room.corners));
  CHECK(plan.storeys[0].rooms.size() == 3);
  CHECK(std::abs(total - 81) < 0.01);
  check_reads(plan);
}

TEST_CASE("Names are the largest text on a layer of names; areas and heights are none") {
  DxfText dxf;
  dxf.polyline("wall", {{0, 0}, {4, 0}, {4, 4}, {0, 4}});
  dxf.polyline("wall", {{4, 0}, {8, 0}, {8, 4}, {4, 4}});
  dxf.text("room names", {1, 1}, "A = 16.0 m2");
  dxf.text("room names", {1, 2}, "16.0 m\\U+00B2");
  dxf.text("room names", {1, 3}, "  hall   1 ");
  dxf.text("notes", {6, 2}, "mind the cable");
  const TracedStorey storey = traced_dxf(dxf.whole()).storeys[0];
  CHECK(areas(storey.rooms) == std::map<std::string, double>{{"hall 1", 16}, {"room 1", 16}});
  dxf.text("room names", {3, 2}, "store");
  const TracedPlan plan = traced_dxf(dxf.whole());
  CHECK(plan.several_names == std::vector<std::string>{"hall 1, store"});
}

TEST_CASE("Plans without walls or rooms are told, and plans that are too large") {
  const auto faults_of = [](const DxfText& dxf) {
    auto drawing = parse_dxf(dxf.whole(), "m");
    REQUIRE(drawing);
    return fault_lines(traced_plan({*drawing}, {}, "m"));
  };
  CHECK(faults_of({}) == "m: the drawing has no lines\n");
  DxfText unknown;
  unknown.line("A", {0, 0}, {1, 0});
  unknown.line("B", {0, 0}, {1, 0});
  CHECK(faults_of(unknown).find("none of the layers is known as one of walls or rooms: 'A', 'B'") !=
        std::string::npos);
  DxfText loose;
  loose.line("wall", {0, 0}, {5, 0});
  CHECK(faults_of(loose).find("no closed room was found on the layer 'wall'") != std::string::npos);
  DxfText large;
  large.polyline("wall", {{0, 0}, {5000, 0}, {5000, 4}, {0, 4}});
  CHECK(faults_of(large).find("5000 m by 4 m large") != std::string::npos);
}
