#include "linkmargin/report/map/coverage_map.hpp"

#include "linkmargin/geometry/polygon.hpp"
#include "linkmargin/report/drawing/palette.hpp"
#include "linkmargin/report/map/coverage_contours.hpp"

#include "fixtures/coverage_fixture.hpp"
#include "fixtures/english.hpp"
#include "fixtures/text_search.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;

namespace {

constexpr CoverageValue kValues[] = {CoverageValue::reading, CoverageValue::level, CoverageValue::margin,
                                     CoverageValue::loss, CoverageValue::chance};

bool inside(const Zone& zone, Point2 at) {
  bool odd = false;
  for (const std::vector<Point2>& outline : zone) odd ^= contains(outline, at);
  return odd;
}

/// From 0, the weakest.
double colour_at(const std::vector<Zone>& zones, Point2 at) {
  double colour = 0;
  for (const Zone& zone : zones) colour += inside(zone, at) ? 1 : 0;
  return colour;
}

/// The texts of a drawing as one, wherever they are wrapped.
std::string running_text(const std::string& svg) {
  std::string text;
  bool in_tag = false;
  for (const char letter : svg) {
    if (letter == '<' || letter == '>') in_tag = letter == '<';
    const char shown = in_tag || letter == '>' || letter == '\n' ? ' ' : letter;
    if (shown != ' ' || !text.ends_with(' ')) text += shown;
  }
  return text;
}

}  // namespace

TEST_CASE("the headroom is under zero exactly where either reading is weak, deaf cells too") {
  CoverageMap map = fixture::coverage_map();
  for (const double sensitivity_dbm : {-100.0, -70.0}) {
    map.hubs[0].sensitivity_dbm = sensitivity_dbm;
    for (const bool two_way : {false, true}) {
      if (two_way) map.hubs[0].other = {-10, -130};  // more margin, and yet the lower reading
      std::size_t weak = 0;
      for (std::size_t cell = 0; cell < map.size(); ++cell) {
        const double level_dbm = -static_cast<double>(map.path_loss_db[cell]);
        const double lower_dbm = two_way ? level_dbm - 10 : level_dbm;
        const bool wanted = level_dbm < sensitivity_dbm || reading_percent(map.reading, Dbm{lower_dbm}) < 40;
        REQUIRE((headroom_db(map, cell) < 0) == wanted);
        REQUIRE(weak_at(map, cell) == wanted);
        weak += wanted ? 1 : 0;
      }
      CHECK(weak > 100);
      CHECK(weak < map.size() - 100);
      map.hubs[0].other.reset();
    }
  }
}

TEST_CASE("the threshold's line is the circle where the closed form has it") {
  const CoverageMap map = fixture::coverage_map();
  const WeakZone zone = weak_zone(map, 0.002);
  REQUIRE(zone.lines.size() == 1);
  const double radius_m = (85.0 - 40) / 8;
  for (const Point2 p : zone.lines[0].points) {
    CHECK(std::abs(distance(p, {1, 1.5}) - radius_m) <= 0.003);  // tolerance, and cells of 0.1 m
  }
  REQUIRE(zone.outlines.size() == 1);
  CHECK(contains(zone.outlines[0], {8.5, 1.5}));
  CHECK(!contains(zone.outlines[0], {3, 1.5}));
  const Box2 box = bounding_box(zone.outlines[0]);
  CHECK(std::abs(box.max.x - 9) <= 1e-9);  // to the rim of the map
}

TEST_CASE("specks are left out of what is drawn") {
  CoverageMap map = fixture::coverage_map();
  map.path_loss_db[20 * 100 + 20] = 99;
  CHECK(weak_zone(map, 0.0001).lines.size() == 2);
  CHECK(weak_zone(map, 0.02).lines.size() == 1);
}

TEST_CASE(
    "colours are strong near the hub and weak far off, whatever the value, each zone in the one before") {
  const CoverageMap map = fixture::coverage_map();
  for (const CoverageValue value : kValues) {
    CAPTURE(value_word(value));
    const std::vector<Zone> zones = colour_zones(map, value, 0.002);
    REQUIRE(zones.size() == map_steps(threshold_share(map, value)).size() - 1);
    CHECK(colour_at(zones, {1, 1.5}) >= colour_at(zones, {4, 1.5}));  // a chance is whole at both
    CHECK(colour_at(zones, {4, 1.5}) > colour_at(zones, {8, 1.5}));
    for (double x = -0.9; x < 9; x += 0.37) {
      for (std::size_t i = 1; i < zones.size(); ++i)
        REQUIRE((!inside(zones[i], {x, 0.71}) || inside(zones[i - 1], {x, 0.71})));
    }
  }
  // 4 m off: -72 dBm, 66 %: the seventh step
  CHECK(colour_at(colour_zones(map, CoverageValue::reading, 0.002), {5, 1.5}) == 6);
}

TEST_CASE("a colour's zone is the circle where the closed form has it, between coarse cells too") {
  for (const double step_m : {0.1, 0.5}) {
    const std::vector<Zone> zones =
        colour_zones(fixture::coverage_map(step_m), CoverageValue::reading, 0.002);
    const Zone& half = zones[4];  // from 50 % on
    REQUIRE(half.size() == 1);
    const double radius_m = (80.0 - 40) / 8;  // -80 dBm
    CAPTURE(step_m);
    for (const Point2 p : half[0]) {
      const bool on_rim = p.y < -0.99 || p.y > 3.99 || p.x < -0.99 || p.x > 8.99;
      if (!on_rim) CHECK(std::abs(distance(p, {1, 1.5}) - radius_m) <= 0.02);
    }
  }
}

TEST_CASE("the sheet says what, where, how high, which hub, which doors, and that it is an estimate") {
  const std::string svg = coverage_svg(fixture::english(), fixture::map_site(), fixture::coverage_map(),
                                       fixture::table(), CoverageValue::reading);
  CHECK(svg.starts_with("<svg xmlns=\"http://www.w3.org/2000/svg\""));
  CHECK(svg.ends_with("</svg>\n"));
  for (const char* part : {">Test &lt;yard&gt;</text>", "ground, 2 m ", "hub: hall hub", "868.3 MHz, ",
                           ">hub</text>", ">far, room</text>", ">hall hub</text>"}) {
    CAPTURE(part);
    CHECK(count(svg, part) == 1);
  }
  CHECK(!has(svg, "<image"));
  CHECK(count(svg, "fill=\"" + hex_text(map_colour(0, 0.4)) + "\"") ==
        2);                                       // under the map, and in the palette's bar
  CHECK(count(svg, "fill=\"url(#weak)\"") == 2);  // the zone and its sign
  for (const char* bad : {"\"nan", "\"inf", "\"-inf", ",nan", ",inf", " nan", " inf"}) CHECK(!has(svg, bad));
}

TEST_CASE("devices carry their own figure and colour, weak ones a ring") {
  const std::string svg = coverage_svg(fixture::english(), fixture::map_site(), fixture::coverage_map(),
                                       fixture::table(), CoverageValue::reading);
  CHECK(has(svg, ">100 %</text>"));       // -41.15 dBm
  CHECK(has(svg, ">34 %, weak</text>"));  // -88 dBm, the table's weaker direction
  CHECK(has(svg, "fill=\"" + hex_text(map_colour(1, 0.4)) + "\" stroke=\"#22272e\""));
  CHECK(count(svg, "r=\"10.5\"") == 4);  // two strokes of one ring, and of its sign
}

TEST_CASE("the sheet carries the map's cautions at its foot, wrapped") {
  CoverageMap map = fixture::coverage_map();
  const auto sheet = [&] {
    return coverage_svg(fixture::english(), fixture::map_site(), map, fixture::table(),
                        CoverageValue::reading);
  };
  const std::string without = sheet();
  const std::string title = ">" + fixture::english().say("notes.site_cautions") + "</text>";
  CHECK(!has(without, title));
  map.warnings = {
      {.code = WarningCode::map_height,
       .arguments = {{"height", LengthFigure{9}},
                     {"storey", Quoted{"ground"}},
                     {"storey_height", LengthFigure{3}}}},
      {.code = WarningCode::changes_written, .arguments = {{"paths", std::string(300, 'x') + " end"}}}};
  const std::string with = sheet();
  CHECK(count(with, title) == 1);
  CHECK(has(with, ">\u2013 The map's height of 9 m is outside storey 'ground', which is 3 m high.</text>"));
  CHECK(has(with, " end.</text>"));
  CHECK(!has(with, std::string(200, 'x')));
}

TEST_CASE("the notes tell of hubs that count and are not drawn, and the other way round") {
  Site site = fixture::map_site();
  const CoverageMap map = fixture::coverage_map();
  const auto sheet = [&] {
    return coverage_svg(fixture::english(), site, map, fixture::table(), CoverageValue::reading);
  };
  CHECK(has(sheet(), fixture::english().say("coverage.sheet.own_link").substr(0, 25)));
  Hub other = site.hubs.front();
  other.name = "yard hub";
  site.hubs.push_back(other);
  CHECK(
      has(running_text(sheet()), fixture::english().say("coverage.sheet.hub_unused", {{"hub", "yard hub"}})));
  site.storeys.push_back(site.storeys.front());
  site.storeys.back().name = "upper";
  site.hubs.back().place.storey = 1;
  CHECK(!has(sheet(), "yard hub"));
  site.hubs.front().place.storey = 1;
  site.devices.clear();
  CHECK(has(sheet(), ">" +
                         fixture::english().say("coverage.sheet.hub_elsewhere",
                                                {{"hub", "hall hub"}, {"storey", "upper"}}) +
                         "</text>"));
}

TEST_CASE("a map of chances marks nine in ten, and the sheet says where the scale ends all over") {
  CoverageMap map = fixture::coverage_map();
  const auto sheet = [&](CoverageValue value) {
    return coverage_svg(fixture::english(), fixture::map_site(), map, fixture::table(), value);
  };
  const std::string mark =
      ">" + fixture::english().say("coverage.sheet.sure", {{"sure", "90"}, {"threshold", "40"}}) + "</text>";
  CHECK(count(sheet(CoverageValue::chance), mark) == 1);
  CHECK(!has(sheet(CoverageValue::reading), mark));
  // at 28 + 0.9 * 420: the figure's tick, and the mark's two strokes
  CHECK(count(sheet(CoverageValue::reading), "x1=\"406\"") == 1);
  CHECK(count(sheet(CoverageValue::chance), "x1=\"406\"") == 3);
  const std::string full = fixture::english().say("coverage.scale_end", {{"percent", "100"}});
  CHECK(!has(running_text(sheet(CoverageValue::reading)), full));
  for (float& loss : map.path_loss_db) loss = 50;
  CHECK(has(running_text(sheet(CoverageValue::reading)), full));
  CHECK(!has(running_text(sheet(CoverageValue::level)), full));
}

TEST_CASE("a sheet of rooms between the cells' centres does not call them fine") {
  Site site = fixture::map_site();
  site.storeys[0].rooms = {{"shaft", rectangle({8.6, 0}, 0.3, 3)}};
  const std::string svg = coverage_svg(fixture::english(), site, fixture::coverage_map(1), fixture::table(),
                                       CoverageValue::reading);
  CHECK(has(running_text(svg), fixture::english().say("coverage.no_room")));
}

TEST_CASE("every value has its unit, and the same bytes every time") {
  const Site site = fixture::map_site();
  const CoverageMap map = fixture::coverage_map();
  for (const CoverageValue value : kValues) {
    CAPTURE(value_word(value));
    const std::string svg = coverage_svg(fixture::english(), site, map, fixture::table(), value);
    CHECK(has(svg, value_phrase(fixture::wording(), map, value) + ", " + value_unit(value) + "</text>"));
    CHECK(svg == coverage_svg(fixture::english(), site, map, fixture::table(), value));
  }
}

TEST_CASE("a storey without walls, weak all over") {
  Site site = fixture::map_site();
  site.storeys[0].rooms.clear();
  CoverageMap map = fixture::coverage_map(0.5);
  for (float& loss : map.path_loss_db) loss = 180;
  const std::string svg = coverage_svg(fixture::english(), site, map, {}, CoverageValue::reading);
  CHECK(count(svg, "fill=\"url(#weak)\"") == 2);
  CHECK(weak_zone(map, 0.01).lines.empty());
}
