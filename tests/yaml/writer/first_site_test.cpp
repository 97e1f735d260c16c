#include "linkmargin/yaml/writer/first_site.hpp"

#include "linkmargin/yaml/site/site_yaml.hpp"

#include "fixtures/fault_lines.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;

namespace {

std::string faults_of(const char* rooms) {
  return fault_lines(first_site(rooms, embedded_tables()));
}

}  // namespace

TEST_CASE("A line of rooms becomes a site file") {
  const auto text =
      first_site("hall 2x5, coffee shop 6x5 left of hall,kitchen 4x3.2 above  hall", embedded_tables());
  CHECK(fault_lines(text) == "");
  REQUIRE(text);
  CHECK(text->find("      coffee shop: {size_m: [6, 5], left_of: hall}\n") != std::string::npos);
  const auto site = parse_site(*text, "first.yaml", embedded_tables());
  REQUIRE(site);
  REQUIRE(site->storeys.front().rooms.size() == 3);
  CHECK(site->storeys.front().rooms[1].corners == rectangle({-6, 0}, 6, 5));
  CHECK(site->hubs.front().place.at == snapped(Point2{0.1, 4.9}));
}

TEST_CASE("What is no room is told, and so is what the rooms contradict") {
  CHECK(faults_of("") ==
        "rooms: this is no room: '' (a name, width x depth, and a neighbour: shop 6x5 left of hall, shop "
        "20'x16'6\" left of hall)\n");
  for (const char* rooms : {"hall", "2x5", "hall 2 by 5", "hall 2x", "hall 2x5 beside shop",
                            "hall 2x5 left shop", "hall 2x5 left of", "hall 2x5,"}) {
    CAPTURE(rooms);
    CHECK(faults_of(rooms).find("this is no room") != std::string::npos);
  }
  CHECK(faults_of("hall 2x5, shop 6x5 left of hal").find("unknown room 'hal' (did you mean 'hall'?)") !=
        std::string::npos);
  CHECK(faults_of("hall 2x5 left of shop, shop 6x5 left of hall").find("in a ring") != std::string::npos);
  CHECK(faults_of("hall 2x5, hall 3x3 left of hall").find("duplicate name 'hall'") != std::string::npos);
  CHECK(faults_of("hall 2x500").find("500 is outside 0.2..300") != std::string::npos);
}
