#include "linkmargin/yaml/what_if/what_if_yaml.hpp"

#include "linkmargin/base/random.hpp"
#include "linkmargin/yaml/site/site_yaml.hpp"
#include "linkmargin/yaml/site/tables.hpp"
#include "linkmargin/yaml/tree/text_file.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

using namespace linkmargin;

namespace {

NamedSite demo(const std::string& name) {
  const std::string file = std::string(LINKMARGIN_DATA "/sites/") + name;
  return {name, parse_site(read_text_file(file).value(), file, embedded_tables()).value()};
}

Result<WhatIf> parsed(const std::string& text, const std::vector<NamedSite>& sites) {
  return parse_what_if(text, "runs.yaml", sites);
}

WhatIf sound(const std::string& text) {
  const auto found = parsed(text, {demo("kiln-lane.yaml")});
  if (!found) {
    for (const Diagnostic& fault : found.error()) MESSAGE(to_text(fault));
  }
  REQUIRE(found);
  return *found;
}

std::vector<std::string> faults(const std::string& text, const std::vector<NamedSite>& sites) {
  const auto found = parsed(text, sites);
  std::vector<std::string> lines;
  if (!found) std::ranges::transform(found.error(), std::back_inserter(lines), to_text);
  return lines;
}

}  // namespace

TEST_CASE("the demo's file, key by key") {
  const std::string text = read_text_file(LINKMARGIN_DATA "/sites/kiln-lane-what-if.yaml").value();
  const auto patterns = parse_what_if_sites(text, "runs.yaml");
  REQUIRE(patterns);
  REQUIRE(patterns->size() == 1);
  CHECK(patterns->front().text == "kiln-lane.yaml");
  CHECK(patterns->front().line == 2);
  const WhatIf runs = sound(text);
  REQUIRE(runs.sites.front().cases.size() == 9);
  const auto& cases = runs.sites.front().cases;
  CHECK(cases[0].name == "steel street door");
  CHECK(cases[3].edits == std::vector<Edit>{{"/hubs/hub/at_m", Point2{snapped(7.7), snapped(4.6)}}});
  REQUIRE(cases[4].edits.size() == 1);
  CHECK(std::get<Obstacle>(cases[4].edits[0].value).construction.material == "steel rack");
  CHECK(cases[5].edits == std::vector<Edit>{{"/storeys/ground/obstacles/kiln", Removal{}}});
  REQUIRE(cases[6].edits.size() == 2);
  CHECK(std::abs(std::get<Point2>(cases[6].edits[0].value).y - 2.8) < 1e-3);
  CHECK(std::abs(std::get<double>(cases[6].edits[1].value) - 1.2) < 1e-12);
  CHECK(cases[7].doors_open == true);
  CHECK(cases[8].edits == std::vector<Edit>{{"/repeaters/landing repeater", Removal{}}});
  REQUIRE(runs.sweep.size() == 2);
  CHECK(runs.sweep[0].texts == std::vector<std::string>{"0.8", "1.3", "1.8", "2.3"});
  CHECK(runs.sweep[1].path == "/radio/frequency_mhz");
  CHECK(runs.draws == RandomDraws{500, 7});
}

TEST_CASE(
    "more runs than can be numbered are a fault of the file, with its place, over all that each number may "
    "be") {
  const std::vector<NamedSite> kiosk{demo("corner-kiosk.yaml")};
  const std::string heights = "  /hubs/hub/height_m: {from: 0.5, to: 2.4, step: 0.0019}\n";  // 1001 of them
  CHECK(faults("site: a\nsweep:\n" + heights + "random: {runs: 999000997}\n", kiosk)
            .empty());  // 1002 under 1e12
  const auto draws = faults("site: a\nsweep:\n" + heights + "random: {runs: 999001000}\n", kiosk);
  REQUIRE(draws.size() == 1);
  CHECK(draws[0].find("runs.yaml:4:9: 1000000002001 runs in all: at most 1000000000000 can be made") == 0);
  CHECK(draws[0].find("1001 combinations of swept values x 999001001 (the prediction and its draws)") !=
        std::string::npos);
  const std::string most =
      "site: a\nsweep:\n  /hubs/hub/height_m: {from: 0.5, to: 2.4, step: 0.0002}\n"
      "  /reading/full_dbm: {from: -45, to: -35, step: 0.002}\n"
      "  /reading/zero_dbm: {from: -105, to: -95, step: 0.002}\n";
  const auto swept = faults(most + "random: {runs: 1000000}\n", kiosk);
  REQUIRE(swept.size() == 1);
  CHECK(swept[0].find("runs.yaml:2:1: over 1000000000000000 runs in all") == 0);
}

TEST_CASE("ranges hold both ends, however the steps round") {
  const WhatIf tenths = sound("site: a\nsweep: {/hubs/hub/height_m: {from: 0.1, to: 2.3, step: 0.1}}\n");
  REQUIRE(tenths.sweep[0].texts.size() == 23);
  CHECK(tenths.sweep[0].texts[2] == "0.3");
  CHECK(tenths.sweep[0].texts.back() == "2.3");
  CHECK(std::get<double>(tenths.sweep[0].values[6]) == 0.7);
  const WhatIf down = sound("site: a\nsweep: {/hubs/hub/height_m: {from: 2, to: 1.1, step: -0.5}}\n");
  CHECK(down.sweep[0].texts == std::vector<std::string>{"2", "1.5"});
  const WhatIf one = sound("site: a\nsweep: {/hubs/hub/height_m: {from: 2, to: 2, step: 1}}\n");
  CHECK(one.sweep[0].texts == std::vector<std::string>{"2"});
}

TEST_CASE("other kinds of swept values, and a seed that is not given") {
  const WhatIf runs = sound(
      "site: a\nsweep:\n  /hubs/hub/at_m: [[1, 1], [2.5, 2]]\n  /radio/diffraction: [on, off]\n"
      "  /storeys/ground/openings/street door/leaf: [timber door, steel door]\nrandom: {runs: 3}\n");
  CHECK(runs.sweep[0].texts == std::vector<std::string>{"[1, 1]", "[2.5, 2]"});
  CHECK(runs.sweep[1].texts == std::vector<std::string>{"on", "off"});
  CHECK(runs.sweep[2].texts == std::vector<std::string>{"timber door", "steel door"});
  CHECK(runs.draws == RandomDraws{3, kDefaultSeed});
}

TEST_CASE("a fault of every site is told once, one of some sites with their names") {
  const std::vector<NamedSite> both{demo("kiln-lane.yaml"), demo("corner-kiosk.yaml")};
  const auto lines = faults(
      "sites: [a, b]\ncases:\n  - {name: one, set: {/hubs/hub/hight_m: 2}}\n"
      "  - {name: two, move: {hall keypad: {by_m: [0.1, 0]}}}\n",
      both);
  REQUIRE(lines.size() == 2);
  CHECK(lines[0] == "runs.yaml:3:23: an edit cannot set 'hight_m' (did you mean 'height_m'?)");
  CHECK(lines[1] ==
        "runs.yaml:4:24: no device, hub or repeater is called 'hall keypad' (in corner-kiosk.yaml)");
  CHECK(faults("sites: [a, b]\nsweep: {/hubs/hub/height_m: [1, 2]}\n", both).empty());
}

TEST_CASE("a move may leave what may_move allows, and a hub that others are enrolled with cannot go") {
  const WhatIf runs = sound("site: a\ncases: [{name: far, move: {hub: {at_m: [20, 20]}}}]\n");
  CHECK(runs.sites[0].cases[0].edits.size() == 1);
  NamedSite enrolled = demo("kiln-lane.yaml");
  enrolled.site.devices[0].hub = "hub";
  const auto lines = faults("site: a\ncases: [{name: none, remove: [/hubs/hub]}]\n", {enrolled});
  REQUIRE_FALSE(lines.empty());
  CHECK(lines[0].find("runs.yaml:2:") == 0);
}

TEST_CASE("where the sites are said, and where not") {
  CHECK(parse_what_if_sites("sites: archive/*.yaml\nrandm: 3\n", "runs.yaml").value().size() == 1);
  for (const char* text :
       {"cases: []\n", "site: a\nsites: [b]\n", "sites: []\n", "site: ''\n", "", "- a\n"}) {
    CAPTURE(text);
    CHECK_FALSE(parse_what_if_sites(text, "runs.yaml"));
  }
  CHECK(faults("site: a\n", {demo("corner-kiosk.yaml")}).size() == 1);  // nothing to be run
}

TEST_CASE("files with a byte changed, left out or put in never end the program, and faults have a line") {
  const std::string whole = read_text_file(LINKMARGIN_DATA "/sites/kiln-lane-what-if.yaml").value();
  const std::vector<NamedSite> sites{demo("corner-kiosk.yaml")};
  const RandomStream random(5, 2);
  int refused = 0;
  for (std::uint64_t round = 0; round < 300; ++round) {
    std::string text = whole;
    for (std::uint64_t k = 0; k <= round % 3; ++k) {
      const std::size_t at = random.bits(9 * round + 3 * k) % text.size();
      const char letter = static_cast<char>(random.bits(9 * round + 3 * k + 1) % 128);
      switch (random.bits(9 * round + 3 * k + 2) % 3) {
        case 0:
          text[at] = letter;
          break;
        case 1:
          text.erase(at, 1);
          break;
        default:
          text.insert(at, 1, letter);
      }
    }
    (void)parse_what_if_sites(text, "runs.yaml");
    const auto found = parse_what_if(text, "runs.yaml", sites);
    if (found) continue;
    ++refused;
    for (const Diagnostic& fault : found.error()) CHECK(fault.line > 0);
  }
  CHECK(refused > 100);
}
