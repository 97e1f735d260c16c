#include "linkmargin/yaml/readings/places_csv.hpp"

#include "fixtures/fault_lines.hpp"
#include "fixtures/readings_fixture.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;

namespace {

std::vector<Device> sound_places(const std::string& text) {
  const auto places = parse_places(text, "p", pottery());
  REQUIRE_MESSAGE(places, fault_lines(places));
  return *places;
}

std::string place_faults(const std::string& text) {
  return fault_lines(parse_places(text, "p", pottery()));
}

}  // namespace

TEST_CASE("columns in any order and case, names and hubs only where they are wanted") {
  const auto places = sound_places(
      "Height_m;X_M;y_m;profile;storey;hub;name\n2,2;9,1;5.25;contact;upper;;\n1;1;2;fob;ground;hub;door\n");
  REQUIRE(places.size() == 2);
  CHECK(places[0].name == "place 1");
  CHECK(places[0].profile == "contact");
  CHECK(places[0].place == Placement{1, snapped(Point2{9.1, 5.25}), 2.2});
  CHECK_FALSE(places[0].hub.has_value());
  CHECK(places[1].name == "door");
  CHECK(places[1].hub == "hub");
}

TEST_CASE("every fault of a list has its line and column") {
  const std::string found = place_faults(
      "profile,storey,x_m,y_m,height_m,hub\ncontct,ground,1,2,1,\ncontact,uper,1,2,1,\ncontact,ground,a,2,1,"
      "\n"
      "contact,ground,1,2,300,\ncontact,ground,1,2,1,hup\n");
  CHECK(found.find("p:2:1: ") != found.npos);
  CHECK(found.find("did you mean 'contact'?") != found.npos);
  CHECK(found.find("p:3:9: ") != found.npos);
  CHECK(found.find("p:4:16: ") != found.npos);
  CHECK(found.find("p:5:20: ") != found.npos);
  CHECK(found.find("p:6:22: ") != found.npos);
}

TEST_CASE("a header that lacks a column, has one twice or one that nobody knows is refused") {
  CHECK(place_faults("profile,storey,x_m,y_m\n").find("'height_m' is missing") != std::string::npos);
  CHECK(place_faults("profile,storey,x_m,y_m,height_m,x_m\n").find("duplicate column") != std::string::npos);
  CHECK(place_faults("profile,storey,x_m,y_m,height_m,level\n").find("unknown column") != std::string::npos);
  CHECK(place_faults("profile,storey,x_m,y_m,height_m\n").find("holds no places") != std::string::npos);
}
