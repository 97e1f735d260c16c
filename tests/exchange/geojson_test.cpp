#include "linkmargin/exchange/geojson/geojson_drawing.hpp"

#include "fixtures/fault_lines.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;
using namespace linkmargin::exchange;

namespace {

std::string feature(const std::string& geometry, const std::string& properties = "{}") {
  return R"({"type": "Feature", "geometry": )" + geometry + R"(, "properties": )" + properties + "}";
}

std::string collection(const std::string& features) {
  return "{\"type\": \"FeatureCollection\",\n \"features\": [" + features + "]}";
}

const std::string kSquare =
    R"({"type": "Polygon", "coordinates": [[[0, 0], [4, 0], [4, 3], [0, 3], [0, 0]]]})";

std::string geojson_faults(const std::string& text) {
  return fault_lines(parse_geojson(text, "m"));
}

}  // namespace

TEST_CASE("Polygons are rooms, lines are of a kind, levels stand from the lowest up") {
  const auto levels = parse_geojson(
      collection(feature(kSquare, R"({"name": "loft", "level": 1})") + "," +
                 feature(kSquare, R"({"name": "hall", "level": 0, "height_m": 2.6})") + "," +
                 feature(R"({"type": "LineString", "coordinates": [[0, 0], [4, 0]]})",
                         R"({"kind": "wall", "level": 0, "thickness_m": 0.3})") +
                 "," +
                 feature(R"({"type": "Point", "coordinates": [1, 1]})", R"({"level": 0, "name": "study"})")),
      "m");
  CHECK(fault_lines(levels) == "");
  REQUIRE(levels);
  REQUIRE(levels->size() == 2);
  const Drawing& ground = (*levels)[0];
  CHECK(ground.level == "0");
  CHECK(ground.height_m == 2.6);
  CHECK(ground.layers == std::vector<std::string>{"room", "wall", "name"});
  REQUIRE(ground.lines.size() == 2);
  CHECK(ground.lines[0].closed);
  CHECK(ground.lines[0].points.size() == 4);
  CHECK(ground.lines[0].name == "hall");
  CHECK(ground.lines[1].width == 0.3);
  REQUIRE(ground.texts.size() == 1);
  CHECK((*levels)[1].lines[0].name == "loft");
}

TEST_CASE("Faults of GeoJSON have line and column") {
  CHECK(geojson_faults("{") == "m:1:2: the JSON ends too early: it is not whole\n");
  CHECK(geojson_faults(collection("}")) == "m:2:15: this is no JSON (found \"}]}\")\n");
  CHECK(geojson_faults("[]") == "m:1:1: expected a FeatureCollection (RFC 7946)\n");
  CHECK(geojson_faults(R"({"type": "FeatureCollection"})") ==
        "m:1:1: a FeatureCollection without its list of features\n");
  CHECK(geojson_faults(collection("")) == "m:1:1: the file has no feature\n");
  CHECK(geojson_faults(collection("\n3")) == "m:3:1: expected a Feature\n");
  CHECK(geojson_faults(collection(feature(R"({"type": "Cube", "coordinates": []})"))) ==
        "m:2:47: RFC 7946 knows no geometry 'Cube'\n");
  CHECK(geojson_faults(collection(feature(R"({"type": "LineString", "coordinates": [[0, "a"], [1, 1]]})"))) ==
        "m:2:86: expected a place: [x, y] in metres\n");
  CHECK(geojson_faults(collection(feature(R"({"type": "LineString", "coordinates": [[0, 0]]})")))
            .find("at least two places") != std::string::npos);
  CHECK(geojson_faults(collection(feature(R"({"type": "LineString", "coordinates": [[0, 1e300], [1, 1]]})")))
            .find("outside every plan") != std::string::npos);
  CHECK(geojson_faults(std::string(100, '[')) == "m:1:65: the file nests deeper than 64 levels\n");
  CHECK(
      geojson_faults(
          collection(feature(
              R"({"type": "Polygon", "coordinates": [[[11, 48], [11.0001, 48], [11, 48.0001], [11, 48]]]})")))
          .find("seem to be degrees") != std::string::npos);
}
