#include "linkmargin/exchange/drawing_unit.hpp"
#include "linkmargin/exchange/dxf/dxf_drawing.hpp"

#include "fixtures/dxf_text.hpp"
#include "fixtures/fault_lines.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

using namespace linkmargin;
using namespace linkmargin::exchange;

namespace {

Drawing read(const std::string& text) {
  const auto drawing = parse_dxf(text, "m");
  CHECK(fault_lines(drawing) == "");
  REQUIRE(drawing);
  return *drawing;
}

std::string dxf_faults(const std::string& text) {
  return fault_lines(parse_dxf(text, "m"));
}

bool near(Point2 one, Point2 other) {
  return distance(one, other) < 1e-9;
}

}  // namespace

TEST_CASE("Lines, polylines, arcs and texts are read with their layers") {
  DxfText dxf;
  dxf.header("$INSUNITS", 70, "4");
  dxf.line("walls", {0, 0}, {4, 0});
  dxf.polyline("rooms", {{0, 0}, {4, 0}, {4, 3}});
  dxf.arc("doors", {1, 1}, 0.9, 0, 90);
  dxf.text("names", {2, 1}, "hall");
  dxf.entity("HATCH", "fill");
  dxf.entity("HATCH", "fill");
  const Drawing drawing = read(dxf.whole());
  CHECK(drawing.unit_m == 0.001);
  CHECK(drawing.layers == std::vector<std::string>{"walls", "rooms", "doors", "names"});
  REQUIRE(drawing.lines.size() == 3);
  CHECK(drawing.lines[0].points == std::vector<Point2>{{0, 0}, {4, 0}});
  CHECK(drawing.lines[1].closed);
  CHECK(drawing.lines[1].points.size() == 3);
  REQUIRE(drawing.arcs.size() == 1);
  CHECK(near(drawing.arcs[0].start, {1.9, 1}));
  CHECK(near(drawing.arcs[0].end, {1, 1.9}));
  REQUIRE(drawing.texts.size() == 1);
  CHECK(drawing.texts[0].text == "hall");
  CHECK(drawing.dropped == DroppedCounts{{{DropReason::kind, "HATCH", "fill"}, 2}});
}

TEST_CASE("Bulges are arcs: every point of one lies on its circle") {
  DxfText dxf;
  dxf.raw({{0, "LWPOLYLINE"},
           {8, "walls"},
           {90, "2"},
           {70, "0"},
           {10, "0"},
           {20, "0"},
           {42, "1"},
           {10, "2"},
           {20, "0"}});
  const Drawing drawing = read(dxf.whole());
  REQUIRE(drawing.lines.size() == 1);
  const std::vector<Point2>& points = drawing.lines[0].points;
  CHECK(points.size() == 25);  // half a turn in steps of 7.5 degrees
  double length_m = 0;
  for (std::size_t i = 0; i < points.size(); ++i) {
    CHECK(std::abs(distance(points[i], {1, 0}) - 1) < 1e-9);
    CHECK(points[i].y <= 1e-9);  // counter-clockwise from the left end: under the chord
    if (i > 0) length_m += distance(points[i - 1], points[i]);
  }
  CHECK(std::abs(length_m - std::numbers::pi) < 0.003);
  REQUIRE(drawing.arcs.size() == 1);  // it may be the swing of a door
  CHECK(near(drawing.arcs[0].centre, {1, 0}));
}

TEST_CASE("Blocks are put in with shift, scale, turn and base, as often as they are repeated") {
  DxfText dxf;
  dxf.block("leaf", {1, 0}, [](DxfText& to) { to.line("0", {1, 0}, {2, 0}); });
  dxf.block("pair", {0, 0}, [](DxfText& to) {
    to.raw({{0, "INSERT"}, {8, "0"}, {2, "leaf"}, {10, "0"}, {20, "0"}, {41, "2"}, {50, "90"}});
  });
  dxf.raw({{0, "INSERT"}, {8, "doors"}, {2, "pair"}, {10, "5"}, {20, "7"}, {70, "2"}, {44, "3"}});
  dxf.raw({{0, "INSERT"}, {8, "doors"}, {2, "none such"}, {10, "0"}, {20, "0"}});
  const Drawing drawing = read(dxf.whole());
  REQUIRE(drawing.lines.size() == 2);
  CHECK(drawing.layers == std::vector<std::string>{"doors"});  // layer 0 is that of the insertion
  for (std::size_t i = 0; i < 2; ++i) {
    const double x = i == 0 ? 5 : 8;
    CHECK(near(drawing.lines[i].points[0], {x, 7}));
    CHECK(near(drawing.lines[i].points[1], {x, 9}));
  }
  CHECK(drawing.dropped == DroppedCounts{{{DropReason::missing_block, "INSERT", "doors"}, 1}});
}

TEST_CASE("Blocks nested too deep, in themselves and too often are told with their line") {
  DxfText deep;
  for (int i = 0; i < 50; ++i) {
    deep.block("b" + std::to_string(i), {0, 0}, [&](DxfText& to) {
      to.raw({{0, "INSERT"}, {8, "0"}, {2, "b" + std::to_string(i + 1)}, {10, "0"}, {20, "0"}});
    });
  }
  deep.block("b50", {0, 0}, [](DxfText& to) { to.line("0", {0, 0}, {1, 1}); });
  deep.raw({{0, "INSERT"}, {8, "w"}, {2, "b0"}, {10, "0"}, {20, "0"}});
  CHECK(dxf_faults(deep.whole()).find("nested deeper than 16 blocks") != std::string::npos);

  DxfText ring;
  ring.block("ring", {0, 0}, [](DxfText& to) {
    to.raw({{0, "INSERT"}, {8, "0"}, {2, "ring"}, {10, "0"}, {20, "0"}});
  });
  ring.raw({{0, "INSERT"}, {8, "w"}, {2, "ring"}, {10, "0"}, {20, "0"}});
  CHECK(dxf_faults(ring.whole()).find("'ring' is nested deeper") != std::string::npos);

  DxfText often;
  for (int i = 0; i < 10; ++i) {
    often.block("b" + std::to_string(i), {0, 0}, [&](DxfText& to) {
      for (int k = 0; k < 10; ++k)
        to.raw({{0, "INSERT"}, {8, "0"}, {2, "b" + std::to_string(i + 1)}, {10, "0"}, {20, "0"}});
    });
  }
  often.block("b10", {0, 0}, [](DxfText&) {});
  often.raw({{0, "INSERT"}, {8, "w"}, {2, "b0"}, {10, "0"}, {20, "0"}});
  CHECK(dxf_faults(often.whole()).find("more than 1000000 things") != std::string::npos);
}

TEST_CASE("Hidden layers, the sheet and what is seen from below") {
  DxfText dxf;
  dxf.hide_layer("old walls");
  dxf.line("old walls", {0, 0}, {1, 0});
  dxf.raw({{0, "LINE"}, {8, "walls"}, {67, "1"}, {10, "0"}, {20, "0"}, {11, "1"}, {21, "0"}});
  dxf.raw(
      {{0, "LWPOLYLINE"}, {8, "walls"}, {70, "0"}, {10, "1"}, {20, "2"}, {10, "3"}, {20, "4"}, {230, "-1"}});
  const Drawing drawing = read(dxf.whole());
  REQUIRE(drawing.lines.size() == 1);
  CHECK(drawing.lines[0].points == std::vector<Point2>{{-1, 2}, {-3, 4}});
  CHECK(drawing.dropped == DroppedCounts{{{DropReason::hidden_layer, "LINE", "old walls"}, 1},
                                         {{DropReason::paper_space, "LINE", "walls"}, 1}});
}

TEST_CASE("Codes in texts are taken out, letters of old code pages read") {
  const auto text_of = [](const char* kind, const std::string& value, const char* page = "ANSI_1252") {
    DxfText dxf;
    dxf.header("$DWGCODEPAGE", 3, page);
    dxf.raw({{0, kind}, {8, "names"}, {10, "0"}, {20, "0"}, {40, "0.2"}, {1, value}});
    const Drawing drawing = read(dxf.whole());
    REQUIRE(drawing.texts.size() == 1);
    return drawing.texts[0].text + (drawing.undecoded_lines.empty() ? "" : " !");
  };
  CHECK(text_of("TEXT", "K\\U+00FCche") ==
        "K\xC3\xBC"
        "che");
  CHECK(text_of("TEXT",
                "K\xFC"
                "che") ==
        "K\xC3\xBC"
        "che");
  CHECK(text_of("TEXT",
                "K\xC3\xBC"
                "che") ==
        "K\xC3\xBC"
        "che");
  CHECK(text_of("TEXT", "\x80 5") == "\xE2\x82\xAC 5");
  CHECK(text_of("TEXT", "20%%d %%uhall%%u") == "20\xC2\xB0 hall");
  CHECK(text_of("MTEXT", "{\\fSome Font|b0|i0;Living}\\~room\\P12.5 m{\\H0.7x;\\S2^;}") ==
        "Living room\n12.5 m2");
  CHECK(text_of("MTEXT", "a\\\\b") == "a\\b");
  CHECK(text_of("TEXT", "\xCA\xF3", "ANSI_1251") == "?? !");
}

TEST_CASE("What is no drawing is told with its line") {
  DxfText dxf;
  dxf.line("walls", {0, 0}, {4, 0});
  const std::string whole = dxf.whole();
  CHECK(dxf_faults("") == "m:1:1: no drawing in DXF: it has no section\n");
  CHECK(dxf_faults("hello\nworld\n").starts_with("m:1:1: expected a group code, found \"hello\""));
  CHECK(dxf_faults(std::string("X Binary DXF\r\n\x1a\0", 16)).starts_with("m:1:1: a binary file"));
  CHECK(dxf_faults(whole.substr(0, whole.size() - 20)).find("it is not whole") != std::string::npos);
  const std::pair<const char*, const char*> numbers[] = {{"four", "expected a number, found \"four\""},
                                                         {"1e300", "lies outside every plan"},
                                                         {"nan", "lies outside every plan"},
                                                         {"", "expected a number"}};
  for (const auto& one : numbers) {
    DxfText broken;
    broken.raw({{0, "LINE"}, {8, "w"}, {10, one.first}, {20, "0"}, {11, "1"}, {21, "1"}});
    CAPTURE(one.first);
    CHECK(dxf_faults(broken.whole()).find(one.second) != std::string::npos);
  }
  DxfText without_end;
  without_end.raw({{0, "LINE"}, {8, "w"}, {10, "1"}, {20, "0"}});
  CHECK(dxf_faults(without_end.whole()).find("LINE without its other end") != std::string::npos);
}

TEST_CASE("Any line ends give the same drawing") {
  DxfText dxf;
  dxf.line("walls", {0, 0}, {4, 0});
  dxf.text("names", {2, 1}, "hall");
  const Drawing plain = read(dxf.whole());
  for (const char* end : {"\r\n", "\r"}) {
    const Drawing other = read(dxf.whole(end));
    CHECK(other.lines.front().points == plain.lines.front().points);
    CHECK(other.texts.front().text == plain.texts.front().text);
    CHECK(other.layers == plain.layers);
  }
}

TEST_CASE("A drawing without a unit asks for one and says what each would make of it") {
  DxfText dxf;
  dxf.line("walls", {0, 0}, {12400, 8300});
  CHECK(
      fault_lines(in_metres(read(dxf.whole()), {}, "m")) ==
      "m: the drawing does not say its unit: it is 12400.0 by 8300.0 units large (--unit mm makes it 12.4 m "
      "by 8.3 m, --unit cm makes it 124.0 m by 83.0 m)\n");
  const auto scaled = in_metres(read(dxf.whole()), 0.001, "m");
  REQUIRE(scaled);
  CHECK(near(scaled->lines.front().points[1], {12.4, 8.3}));
}
