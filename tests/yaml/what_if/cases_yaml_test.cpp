#include "linkmargin/yaml/what_if/cases_yaml.hpp"

#include "fixtures/fault_lines.hpp"
#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;

namespace {

std::string faults_of(const std::string& text) {
  return fault_lines(parse_cases(text, "cases.yaml", fixture::two_rooms()));
}

}  // namespace

TEST_CASE("cases are read by how their values are written") {
  const auto cases = parse_cases(R"(site: two-rooms.yaml
cases:
  - {name: as it is, set: {}}
  - name: much
    set:
      /radio/noise_rise_db: 6.5
      /radio/diffraction: off
      /hubs/hub/at_m: [2, 3]
      /storeys/ground/inner_wall/material: heavy
      /hubs/second: {profile: hub, storey: ground, at_m: [5, 1], height_m: 2}
)",
                                 "cases.yaml", fixture::two_rooms());
  REQUIRE(cases);
  REQUIRE(cases->size() == 2);
  CHECK(cases->at(0) == NamedEdits{"as it is", {}});
  const NamedEdits expected{"much",
                            {{"/radio/noise_rise_db", 6.5},
                             {"/radio/diffraction", false},
                             {"/hubs/hub/at_m", Point2{2, 3}},
                             {"/storeys/ground/inner_wall/material", std::string("heavy")},
                             {"/hubs/second", NewRadio{"hub", "ground", {5, 1}, 2}}}};
  CHECK(cases->at(1) == expected);
}

TEST_CASE("every fault of a file of cases has its line") {
  CHECK(faults_of("cases: []\n") == "cases.yaml:1:8: cases: expected 1..100 items, found 0\n");
  CHECK(faults_of(R"(cases:
  - {name: one, set: {/radio/noise_rise_db: 600}}
  - {name: two, set: {/hubs/hup/height_m: 2, /radio/diffraction: 3}}
  - {set: {/radio/diffraction: off}, by: 3}
  - {name: four, set: {/hubs/hub/at_m: [1], /radio/diffraction: }}
sweep: {}
)") == R"(cases.yaml:2:23: noise_rise_db: 600 is outside 0..60
cases.yaml:3:23: unknown hub 'hup' (did you mean 'hub'?)
cases.yaml:3:46: diffraction: expected on or off, found the number 3
cases.yaml:4:5: missing key 'name' in this case
cases.yaml:4:38: unknown key 'by'
cases.yaml:5:40: /hubs/hub/at_m: expected [x, y], found 1 value
cases.yaml:5:45: /radio/diffraction: expected a value, found nothing
cases.yaml:6:1: unknown key 'sweep'
)");
}
