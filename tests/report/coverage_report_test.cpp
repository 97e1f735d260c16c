#include "linkmargin/report/coverage_report.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/document/write_text.hpp"

#include "fixtures/coverage_fixture.hpp"
#include "fixtures/english.hpp"
#include "fixtures/text_search.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <sstream>

using namespace linkmargin;

namespace {

std::vector<std::vector<std::string>> rows_of(const std::string& csv) {
  std::vector<std::vector<std::string>> rows;
  std::istringstream lines(csv);
  for (std::string line; std::getline(lines, line);) {
    REQUIRE(line.ends_with('\r'));
    line.pop_back();
    rows.emplace_back();
    std::istringstream fields(line);
    for (std::string field; std::getline(fields, field, ',');) rows.back().push_back(field);
  }
  return rows;
}

double number(const std::string& text) {
  const auto value = parse_number(text);
  REQUIRE(value);
  return *value;
}

std::string text_of(const Site& site, const CoverageMap& map, CoverageValue value = CoverageValue::reading) {
  std::string text = write_text(coverage_document(fixture::english(), site, map, value), {});
  std::ranges::replace(text, '\n', ' ');  // wherever it is wrapped
  return text;
}

}  // namespace

TEST_CASE("CSV: one row a cell from the lower left, each figure within its rounding") {
  const CoverageMap map = fixture::coverage_map(0.5);
  const auto rows = rows_of(coverage_csv(map));
  REQUIRE(rows.size() == map.size() + 1);
  CHECK(rows[0] == std::vector<std::string>{"storey", "x_m", "y_m", "height_m", "hub", "path_loss_db",
                                            "level_dbm", "margin_db", "reading_percent", "pass_probability"});
  CHECK(rows[1][1] == "-0.75");
  CHECK(rows[1][2] == "-0.75");
  CHECK(rows[2][1] == "-0.25");
  CHECK(rows[static_cast<std::size_t>(map.columns) + 1][2] == "-0.25");
  for (std::size_t cell = 0; cell < map.size(); ++cell) {
    const auto& row = rows[cell + 1];
    REQUIRE(row.size() == 10);
    CHECK(row[0] == "ground");
    CHECK(row[3] == "2");
    CHECK(row[4] == "hall hub");
    CHECK(std::abs(number(row[5]) - value_at(map, cell, CoverageValue::loss)) <= 0.05001);
    CHECK(std::abs(number(row[6]) - value_at(map, cell, CoverageValue::level)) <= 0.05001);
    CHECK(std::abs(number(row[7]) - value_at(map, cell, CoverageValue::margin)) <= 0.05001);
    CHECK(std::abs(number(row[8]) - value_at(map, cell, CoverageValue::reading)) < 1);
    CHECK(std::abs(number(row[9]) - value_at(map, cell, CoverageValue::chance)) < 0.01);
  }
}

TEST_CASE("CSV: names with commas are quoted, what is not finite is empty") {
  CoverageMap map = fixture::coverage_map(2.5);
  map.hubs[0].name = "hub, hall";
  map.path_loss_db[0] = std::numeric_limits<float>::infinity();
  const std::string csv = coverage_csv(map);
  CHECK(csv.find(",\"hub, hall\",,,,,\r\n") != std::string::npos);
}

TEST_CASE("a weak reading is never rounded up to the threshold") {
  CoverageMap map = fixture::coverage_map(2.5);
  map.path_loss_db[0] = 85.02F;  // 39.96 %
  map.path_loss_db[1] = 84.98F;  // 40.04 %
  const auto rows = rows_of(coverage_csv(map));
  CHECK(rows[1][8] == "39");
  CHECK(rows[2][8] == "40");
  const auto precise = rows_of(coverage_csv(map, {.precise = true}));
  CHECK(std::abs(number(precise[1][8]) - value_at(map, 0, CoverageValue::reading)) <= 1e-9);
}

TEST_CASE("JSON: the frame of the grid and as many cells, null where there is no number") {
  CoverageMap map = fixture::coverage_map(0.5);
  map.path_loss_db[7] = std::numeric_limits<float>::infinity();
  const auto json =
      nlohmann::json::parse(coverage_json(fixture::english(), fixture::map_site(), map, CoverageValue::loss));
  for (const char* key : {"site", "storey", "height_m", "origin_m", "step_m", "columns", "rows", "hub",
                          "value", "cells", "profile", "frequency_mhz", "doors", "weak_below_percent",
                          "weak_share_percent", "outside_weak_share_percent", "hubs"}) {
    CAPTURE(key);
    CHECK(json.contains(key));
  }
  CHECK(!json.contains("hub_of"));
  CHECK(json["hub"] == "hall hub");
  CHECK(json["value"] == "loss");
  CHECK(json["cells"].size() == map.size());
  CHECK(json["columns"].get<int>() * json["rows"].get<int>() == static_cast<int>(map.size()));
  CHECK(json["cells"][7].is_null());
  CHECK(std::abs(json["cells"][8].get<double>() - map.path_loss_db[8]) <= 0.05001);
  CHECK(json["origin_m"][0] == -1.0);
}

TEST_CASE("JSON of several hubs names the hub of each cell") {
  CoverageMap map = fixture::coverage_map(1);
  map.hubs.push_back(map.hubs[0]);
  map.hubs[1].name = "yard hub";
  map.hub_of.assign(map.size(), 0);
  map.hub_of[3] = 1;
  const auto json = nlohmann::json::parse(
      coverage_json(fixture::english(), fixture::map_site(), map, CoverageValue::reading));
  CHECK(json["hub"] == "best");
  CHECK(json["hubs"][1]["hub"] == "yard hub");
  CHECK(json["hub_of"].size() == map.size());
  CHECK(json["hub_of"][3] == 1);
  CHECK(json["hub_of"][4] == 0);
}

TEST_CASE("text: the worst room first, its share and place counted cell by cell") {
  const CoverageMap map = fixture::coverage_map();
  const Site site = fixture::map_site();
  const std::string text =
      write_text(coverage_document(fixture::english(), site, map, CoverageValue::reading), {});
  int weak = 0;
  int cells = 0;
  for (std::size_t cell = 0; cell < map.size(); ++cell) {
    const Point2 p = map.centre(cell);
    if (p.x < 4 || p.x > 8 || p.y < 0 || p.y > 3) continue;
    ++cells;
    weak += weak_at(map, cell) ? 1 : 0;
  }
  REQUIRE(cells == 1200);
  const std::string share = fixed_text(100.0 * weak / cells, 0);
  CAPTURE(text);
  const std::string worst =
      fixture::english().say("coverage.room_share", {{"room", "far, room"}, {"share", share}});
  const std::string all = fixed_text(100.0 * weak / (2 * cells), 0);
  CHECK(text_of(site, map).find(fixture::english().say(
            "coverage.rooms_weak_where", {{"share", all}, {"threshold", "40"}, {"rooms", worst}})) !=
        std::string::npos);
  CHECK(text.find("! far, room") < text.find("  hall "));
  // the farthest corner of the rooms is the lowest; of a loss the greatest
  CHECK(text.find("bottom right") != std::string::npos);
  const std::string loss =
      write_text(coverage_document(fixture::english(), site, map, CoverageValue::loss), {});
  CHECK(loss.find(fixture::english().say("coverage.greatest")) != std::string::npos);
}

TEST_CASE("text: what is outside the rooms, and areas against what they allow") {
  const CoverageMap map = fixture::coverage_map();
  Site site = fixture::map_site();
  Area area;
  area.storey = 0;
  area.share_percent = 95;
  area.name = "near drive";
  area.corners = rectangle({-1, -1}, 2, 1);
  site.areas.push_back(area);
  area.name = "far drive";
  area.corners = rectangle({8, 0}, 1, 3);  // 7 m from the hub: weak all over
  area.share_percent = 30;
  site.areas.push_back(area);
  area.name = "elsewhere";
  area.storey = 1;
  site.areas.push_back(area);
  site.storeys.push_back(site.storeys.front());
  site.storeys.back().name = "upper";
  int cells = 0;
  int weak = 0;
  for (std::size_t cell = 0; cell < map.size(); ++cell) {
    const Point2 p = map.centre(cell);
    if (p.x > 0 && p.x < 8 && p.y > 0 && p.y < 3) continue;
    ++cells;
    weak += weak_at(map, cell) ? 1 : 0;
  }
  REQUIRE(cells == 100 * 50 - 2400);
  const std::string text = text_of(site, map);
  CAPTURE(text);
  CHECK(has(text, fixture::english().say("coverage.outside", {{"share", fixed_text(100.0 * weak / cells, 0)},
                                                              {"threshold", "40"}})));
  CHECK(has(text, "  near drive     0        5"));
  CHECK(has(text, "! far drive    100       70"));
  CHECK(!has(text, "elsewhere"));
  const std::string remark = fixture::english().say("coverage.areas");
  CHECK(has(text, remark.substr(0, 40)));
  site.areas.clear();
  CHECK(!has(text_of(site, map), remark.substr(0, 40)));
  const auto json =
      nlohmann::json::parse(coverage_json(fixture::english(), site, map, CoverageValue::reading));
  CHECK(std::abs(json["outside_weak_share_percent"].get<double>() - 100.0 * weak / cells) <= 0.0051);
}

TEST_CASE("text: a room or an area between the cells' centres is named, not called fine") {
  const CoverageMap map = fixture::coverage_map(1);  // centres at half metres
  Site site = fixture::map_site();
  site.storeys[0].rooms.push_back({"shaft", rectangle({8.6, 0}, 0.3, 3)});
  Area area;
  area.name = "step";
  area.corners = rectangle({-0.4, 0}, 0.2, 3);
  site.areas = {area};
  const std::string text = text_of(site, map);
  CAPTURE(text);
  CHECK(has(text, fixture::english().say("coverage.missed", {{"names", "shaft and step"}})));
  CHECK(!has(text, "  shaft"));
  site.storeys[0].rooms = {site.storeys[0].rooms.back()};
  const std::string none = text_of(site, map);
  CHECK(has(none, fixture::english().say("coverage.no_room")));
  CHECK(nlohmann::json::parse(
            coverage_json(fixture::english(), site, map, CoverageValue::reading))["weak_share_percent"]
            .is_null());
}

TEST_CASE("text: where the scale ends all over, margins tell more") {
  const Site site = fixture::map_site();
  CoverageMap map = fixture::coverage_map();
  const auto all = [](const char* percent) {
    return fixture::english().say("coverage.scale_end", {{"percent", percent}}) + " " +
           fixture::english().say("coverage.margins");
  };
  const std::string margins = fixture::english().say("coverage.margins");
  CHECK(!has(text_of(site, map), margins));
  for (float& loss : map.path_loss_db) loss = 50;
  CHECK(has(text_of(site, map), all("100")));
  CHECK(!has(text_of(site, map, CoverageValue::margin), margins));
  map.path_loss_db[3] = 80;  // outside
  CHECK(has(text_of(site, map), fixture::english().say("coverage.rooms_full") + " " + margins));
  map.path_loss_db[25 * 100 + 25] = 80;
  CHECK(!has(text_of(site, map), margins));
  for (float& loss : map.path_loss_db) loss = 180;
  CHECK(has(text_of(site, map), all("0")));
}

TEST_CASE("text: beside another value the share of weak readings is called so") {
  const Site site = fixture::map_site();
  const CoverageMap map = fixture::coverage_map();
  const std::string title = fixture::english().say("coverage.weak_reading");
  CHECK(has(text_of(site, map, CoverageValue::margin), title));
  CHECK(!has(text_of(site, map), title));
}

TEST_CASE("text: no chance is a certainty, and no weak spot nothing") {
  CoverageMap map = fixture::coverage_map();
  for (float& loss : map.path_loss_db) loss = 20;
  const std::string chances = text_of(fixture::map_site(), map, CoverageValue::chance);
  CAPTURE(chances);
  CHECK(has(chances, ">99"));
  CHECK(!has(chances, " 100 "));
  map.path_loss_db[25 * 100 + 25] = 180;
  const std::string one = text_of(fixture::map_site(), map);
  const std::string hall = fixture::english().say("coverage.room_share", {{"room", "hall"}, {"share", "<1"}});
  CHECK(has(one, fixture::english().say("coverage.rooms_weak_where",
                                        {{"share", "<1"}, {"threshold", "40"}, {"rooms", hall}})));
}

TEST_CASE("text: nothing weak, and no room at all") {
  CoverageMap map = fixture::coverage_map();
  for (float& loss : map.path_loss_db) loss = 50;
  Site site = fixture::map_site();
  CHECK(has(text_of(site, map), fixture::english().say("coverage.rooms_fine", {{"threshold", "40"}})));
  site.storeys[0].rooms.clear();
  const std::string none = text_of(site, map);
  CHECK(has(none, fixture::english().say("coverage.map_fine", {{"threshold", "40"}})));
  CHECK(!has(none, fixture::english().say("coverage.marks")));
  map.path_loss_db[3] = 180;
  CHECK(has(text_of(site, map),
            fixture::english().say("coverage.map_weak", {{"share", "<1"}, {"threshold", "40"}})));
}
