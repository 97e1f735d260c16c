#include "linkmargin/report/json/json_values.hpp"

#include "fixtures/english.hpp"
#include "fixtures/link_table_fixture.hpp"

#include <doctest/doctest.h>

#include <vector>

using namespace linkmargin;

TEST_CASE("edits as a list of paths and values, written as in a site file") {
  const std::vector<Edit> edits{
      {"/hubs/a~1b/height_m", 1.5},
      {"/hubs/a~1b/at_m", snapped(Point2{0.1, -3.2})},
      {"/devices/d/hub", "a \"b\""},
      {"/radio/diffraction", false},
      {"/repeaters/landing", NewRadio{"repeater", "upper", snapped(Point2{6, 2.3}), 2.2}}};
  CHECK(
      json::edits(edits).dump() ==
      R"([{"path":"/hubs/a~1b/height_m","value":1.5},{"path":"/hubs/a~1b/at_m","value":[0.1,-3.2]},)"
      R"({"path":"/devices/d/hub","value":"a \"b\""},{"path":"/radio/diffraction","value":false},)"
      R"({"path":"/repeaters/landing","value":{"profile":"repeater","storey":"upper","at_m":[6.0,2.3],"height_m":2.2}}])");
  CHECK(json::edits({}).dump() == "[]");
}

TEST_CASE("controls and turns of the direction of writing reach no output, ends of lines do") {
  json::Value value{{"note", "a\u202Eb\u0085c\nd"}, {"list", {"\u2066", 1, nullptr}}};
  CHECK(json::line(value) == "{\"note\":\"a\uFFFDb\uFFFDc\\nd\",\"list\":[\"\uFFFD\",1,null]}");
  CHECK(json::text("x\u200F") == "\"x\uFFFD\"\n");
}

TEST_CASE("a calibration as an edit is the section of a site file") {
  Calibration learned;
  learned.offset_db = -2.5;
  learned.materials = {{"brick", {1.5, 0.5, 3}}};
  learned.correlations = {{kOffsetPointer, shift_pointer("brick"), -0.25}};
  CHECK(json::edits(std::vector<Edit>{{"/calibration", learned}}).dump() ==
        R"([{"path":"/calibration","value":{"offset_db":-2.5,"offset_sigma_db":0.0,"exponent_sigma":0.0,)"
        R"("zero_sigma_db":0.0,"full_sigma_db":0.0,"readings":0,)"
        R"("materials":{"brick":{"shift_db":1.5,"sigma_db":0.5,"readings":3}},"radios":{},)"
        R"("correlations":[["/calibration/offset_db","/calibration/materials/brick/shift_db",-0.25]]}}])");
}

TEST_CASE("an item of a loss tells what readings taught of it, and nothing where they taught nothing") {
  Link link;
  link.loss.items.assign(2, fixture::distance(40));
  link.loss.items[1].shift_db = -1.25;
  const json::Value losses = json::link(fixture::english(), link)["losses"];
  CHECK_FALSE(losses[0].contains("learned_shift_db"));
  CHECK(losses[1]["learned_shift_db"] == -1.25);
}

TEST_CASE("an item of a loss tells its part as a code, a warning its code beside its text") {
  Link link;
  const PartName outer = fixture::outer_wall("shop");
  link.loss.items = {fixture::distance(40), fixture::item(LossCause::wall, outer, "brick", 8),
                     fixture::bend(piece_of(fixture::wall_between("shop", "hall"), PartPiece::end), 9),
                     fixture::bend(gap_between(outer, fixture::traced_wall("fence")), 9)};
  link.loss.warnings = {{.code = WarningCode::free_space_model}};
  const json::Value value = json::link(fixture::english(), link);
  CHECK_FALSE(value["losses"][0].contains("part"));
  CHECK(value["losses"][1]["part"].dump() == R"({"kind":"outer_wall","piece":"whole","names":["shop"]})");
  CHECK(value["losses"][1]["name"] == "outer wall of shop");
  CHECK(value["losses"][2]["part"].dump() ==
        R"({"kind":"wall_between","piece":"end","names":["shop","hall"]})");
  CHECK(value["losses"][3]["part"]["walls"][1].dump() ==
        R"({"kind":"traced_wall","piece":"whole","names":["fence"]})");
  CHECK(value["cautions"][0]["code"] == "free_space_model");
  CHECK(value["cautions"][0]["text"] == fixture::english().say("warning.free_space_model"));
}
