#include "linkmargin/report/plan/floor_plan.hpp"

#include "linkmargin/report/drawing/svg.hpp"

#include "fixtures/english.hpp"
#include "fixtures/text_search.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;

namespace {

/// Two rooms, a door, a window, a traced wall, an obstacle, a hub, two devices, an area; and an upper storey.
Site small_site() {
  Site site;
  site.name = "Rose & Crown <test>";
  site.profiles["smoke"].name = "smoke";
  site.profiles["smoke"].fixed_by_rule = true;
  Storey ground;
  ground.name = "ground";
  ground.height_m = 2.5;
  ground.outer_wall = {"brick", 0.24};
  ground.inner_wall = {"stud wall", {}};
  ground.rooms = {{"bar", rectangle({0, 0}, 5, 4)}, {"store", rectangle({5, 0}, 3, 4)}};
  ground.walls = {{"yard wall", {{8, 4}, {12, 4}}, {"brick", 0.2}, 1.8}};
  Opening door;
  door.name = "bar door";
  door.first = "bar";
  door.second = kOutside;
  door.at = {2, 0};
  door.width_m = 1;
  door.height_m = 2;
  door.leaf = {"timber door", {}};
  Opening window = door;
  window.name = "bar window";
  window.at = {0, 2};
  window.sill_m = 0.9;
  window.height_m = 1.2;
  ground.openings = {door, window};
  ground.obstacles = {{"safe", rectangle({6, 3}, 1, 0.6), 0, 1.5, {"steel", {}}}};
  Storey upper = ground;
  upper.name = "upper";
  upper.level_m = 2.8;
  upper.walls.clear();
  upper.openings.clear();
  upper.obstacles.clear();
  site.storeys = {ground, upper};
  Hub hub;
  hub.name = "bar hub";
  hub.place = {0, {1, 3}, 2};
  site.hubs = {hub};
  Device device;
  device.name = "door contact";
  device.profile = "contact";
  device.place = {0, {2.5, 0.1}, 2};
  device.may_move = Mobility{Mobility::Radius{0.8}};
  Device smoke = device;
  smoke.name = "store smoke";
  smoke.profile = "smoke";
  smoke.place = {1, {6.5, 2}, 2.4};
  smoke.may_move.reset();
  site.devices = {device, smoke};
  Area area;
  area.name = "yard";
  area.corners = rectangle({8, 4}, 4, 3);
  site.areas = {area};
  return site;
}

}  // namespace

TEST_CASE("everything typed is on the sheet, names escaped, once") {
  const std::string svg = floor_plan_svg(fixture::english(), small_site());
  CHECK(svg.starts_with("<svg xmlns=\"http://www.w3.org/2000/svg\""));
  CHECK(svg.ends_with("</svg>\n"));
  CHECK(has(svg, ">Rose &amp; Crown &lt;test&gt;</text>"));
  for (const char* name : {"bar hub", "door contact", "store smoke", "safe", "yard wall", "1.8 m high",
                           "bar door", "bar window", "yard", "ground", "upper"}) {
    CAPTURE(name);
    CHECK(count(svg, ">" + std::string(name) + "</text>") == 1);
  }
  CHECK(count(svg, ">bar</text>") == 2);  // on both storeys
  CHECK(!has(svg, fixture::english().counted("sign.left_out", 1)));
}

TEST_CASE("one storey alone, and the storeys from the top down") {
  const std::string svg = floor_plan_svg(fixture::english(), small_site());
  CHECK(svg.find(">upper</text>") < svg.find(">ground</text>"));
  const std::string ground = floor_plan_svg(fixture::english(), small_site(), {.storey = 0});
  CHECK(!has(ground, ">upper</text>"));
  CHECK(!has(ground, "store smoke"));
}

TEST_CASE("the legend names what occurs and nothing else") {
  const std::string svg = floor_plan_svg(fixture::english(), small_site());
  const auto text = [](const std::string& sign) {
    return ">" + fixture::english().say("legend." + sign) + "</text>";
  };
  for (const char* sign : {"hub", "device", "door", "glazing", "obstacle", "reach", "area", "ruled_device"}) {
    CAPTURE(sign);
    CHECK(count(svg, text(sign)) == 1);
  }
  CHECK(!has(svg, text("repeater")));
  CHECK(!has(svg, text("gap")));
}

TEST_CASE("the legend has each material of walls with its thickness") {
  Site site = small_site();
  const std::string svg = floor_plan_svg(fixture::english(), site);
  CHECK(count(svg, ">stud wall</text>") == 1);
  CHECK(count(svg, ">brick, 20 cm to 24 cm</text>") == 1);
  site.storeys[0].boundaries.push_back({"bar", kOutside, {"brick", 0.1}});
  CHECK(count(floor_plan_svg(fixture::english(), site), ">brick, 10 cm to 24 cm</text>") == 1);
}

TEST_CASE("the arrow points north where the site says where that is") {
  Site site = small_site();
  CHECK(!has(floor_plan_svg(fixture::english(), site), ">N</text>"));
  site.north_deg = 90;
  CHECK(count(floor_plan_svg(fixture::english(), site, {.storey = 0}), ">N</text>") == 1);
}

TEST_CASE("a wall is drawn to its thickness, with a gap at its door") {
  const std::string svg =
      floor_plan_svg(fixture::english(), small_site(), {.storey = 0, .shown = PlanFraming::all});
  CHECK(has(svg, "outer wall of bar: brick 0.24 m, 2.5 m high"));
  CHECK(has(svg, "wall between bar and store: stud wall, 2.5 m high"));
  CHECK(has(svg, "bar door: timber door, 1 m wide, 2 m high"));
  // bar's outer wall: three pieces, of which the door and the window cut two in two
  CHECK(count(svg, "outer wall of bar: brick") == 5);
}

TEST_CASE("an opening in the floor is a dashed outline with its name and a sign in the legend") {
  Site site = small_site();
  site.storeys[1].floor_openings = {{"stairwell", rectangle({1, 1}, 1, 2)},
                                    {"atrium", {{5, 1}, {7, 1}, {6, 3}}}};
  const std::string svg = floor_plan_svg(fixture::english(), site, {.storey = 1});
  for (const char* name : {"stairwell", "atrium"}) {
    CAPTURE(name);
    CHECK(count(svg, ">" + std::string(name) + "</text>") == 1);
    CHECK(count(svg, "<title>" + fixture::english().say("sign.floor_opening", {{"name", name}}) +
                         "</title>") == 1);
  }
  CHECK(count(svg, "stroke-dasharray=\"5 3\"") == 3);  // two outlines and the legend
  const std::string sign = fixture::english().say("legend.floor_opening");
  CHECK(count(svg, ">" + sign + "</text>") == 1);
  CHECK(!has(floor_plan_svg(fixture::english(), site, {.storey = 0}), sign));
  CHECK(!has(floor_plan_svg(fixture::english(), small_site()), sign));
}

TEST_CASE("the same site gives the same bytes, and an empty one still a sheet") {
  CHECK(floor_plan_svg(fixture::english(), small_site()) == floor_plan_svg(fixture::english(), small_site()));
  Site empty;
  empty.name = "nothing yet";
  empty.storeys.resize(1);
  empty.storeys[0].name = "ground";
  const std::string svg = floor_plan_svg(fixture::english(), empty);
  CHECK(has(svg, "nothing yet"));
  CHECK(!has(svg, "nan"));
  CHECK(!has(svg, "inf"));
}

TEST_CASE("names that find no room are counted") {
  Site site = small_site();
  for (int i = 0; i < 1500; ++i) {
    Device device = site.devices[0];
    device.name = "contact number " + std::to_string(i);
    site.devices.push_back(device);
  }
  const std::string svg = floor_plan_svg(fixture::english(), site, {.storey = 0});
  const std::string none = fixture::english().say("sign.left_out.other", {{"count", ""}});
  CHECK(has(svg, none.substr(none.find(' ') + 1)));
  CHECK(has(svg, "<title>contact number 1499: contact"));
}

TEST_CASE("text is made safe for XML") {
  CHECK(svg::escaped("a<b>&\"c\x01\xFF") == "a&lt;b&gt;&amp;&quot;c\uFFFD\uFFFD");
  CHECK(svg::px(1.5) == "1.5");
  CHECK(svg::px(-0.001) == "0");
  CHECK(svg::px(100) == "100");
}
