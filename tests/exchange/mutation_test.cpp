#include "linkmargin/exchange/drawing_unit.hpp"
#include "linkmargin/exchange/dxf/dxf_drawing.hpp"
#include "linkmargin/exchange/geojson/geojson_drawing.hpp"
#include "linkmargin/exchange/tracing/traced_plan.hpp"
#include "linkmargin/exchange/writer/plan_dxf.hpp"
#include "linkmargin/exchange/writer/plan_geojson.hpp"
#include "linkmargin/yaml/exchange/layer_map_yaml.hpp"
#include "linkmargin/yaml/exchange/traced_site.hpp"

#include "fixtures/mutated_text.hpp"
#include "fixtures/random_house.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;
using namespace linkmargin::exchange;

namespace {

constexpr std::uint64_t kRuns = 1000;

std::string mutated(std::string text, std::uint64_t seed) {
  const RandomStream random(seed, named_stream("slips"));
  const std::size_t changes = 1 + below(random, 0, 4);
  constexpr std::string_view kPieces[] = {"0",   "-1",   "1e9",     "nan",    "\n",  "{",
                                          "]",   "\"",   "SECTION", "ENDSEC", "EOF", "INSERT",
                                          "\0x", "\xFF", "70",      "1e400",  ",",   "POLYLINE"};
  for (std::size_t i = 0; i < changes && !text.empty(); ++i) {
    const std::size_t at = below(random, 10 + 4 * i, text.size());
    const std::size_t length = 1 + below(random, 11 + 4 * i, 12);
    switch (below(random, 12 + 4 * i, 4)) {
      case 0:
        text.erase(at, length);
        break;
      case 1:
        text.insert(at, kPieces[below(random, 13 + 4 * i, std::size(kPieces))]);
        break;
      case 2:
        text.insert(at, text.substr(at, 40 * length));
        break;
      default:
        text[at] = static_cast<char>(' ' + below(random, 13 + 4 * i, 90));
    }
  }
  if (below(random, 1, 10) == 0) text.resize(text.size() / 2);
  return text;
}

/// Faults have a message; a plan has rooms and gives a file or faults.
template <typename Read>
std::size_t runs_to_a_plan(const std::string& text, Read read) {
  std::vector<Drawing> drawings;
  const auto [faults, made] = read(text);
  if (!faults.empty()) {
    for (const Diagnostic& fault : faults) {
      CHECK_FALSE(fault.message.empty());
      CHECK(fault.line > 0);
    }
    return 0;
  }
  for (const Drawing& drawing : made) {
    auto scaled = in_metres(drawing, drawing.unit_m ? std::nullopt : std::optional(1.0), "m");
    REQUIRE(scaled);
    drawings.push_back(std::move(*scaled));
  }
  const auto plan = traced_plan(std::move(drawings), {}, "m");
  if (!plan) return 0;
  REQUIRE_FALSE(plan->storeys.empty());
  const auto site = traced_site(*plan, "house", "m", embedded_tables());
  if (!site) MESSAGE(to_text(site.error().front()));
  CHECK(site.has_value());
  return 1;
}

using Read = std::pair<Diagnostics, std::vector<Drawing>>;

Read read_dxf(const std::string& text) {
  auto drawing = parse_dxf(text, "m");
  return drawing ? Read{{}, {std::move(*drawing)}} : Read{drawing.error(), {}};
}
Read read_geojson(const std::string& text) {
  auto levels = parse_geojson(text, "m");
  return levels ? Read{{}, std::move(*levels)} : Read{levels.error(), {}};
}

}  // namespace

TEST_CASE("Drawings with slips give a plan or faults, and what is traced reads as a site") {
  std::size_t plans = 0;
  for (std::uint64_t seed = 0; seed < kRuns; ++seed) {
    CAPTURE(seed);
    const Site site = random_house(seed % 10);
    plans += runs_to_a_plan(mutated(plan_dxf(site, 0), seed), read_dxf);
    plans += runs_to_a_plan(mutated(faces_dxf(site), seed), read_dxf);
    plans += runs_to_a_plan(mutated(plan_geojson(site), seed), read_geojson);
  }
  CHECK(plans > kRuns / 5);
  CHECK(plans < 3 * kRuns);
}

TEST_CASE("Maps of layers with slips give a map or faults") {
  const std::string map = "walls: [A-WALL*, mauer]\ndoors: tuer\nnames:\n  - '*TEXT*'\nrooms: [a, b]\n";
  for (std::uint64_t seed = 0; seed < 1000; ++seed) {
    const auto read = parse_layer_map(mutated(map, seed), "m");
    std::set<std::string> messages;
    if (!read) check_faults_in_place(read.error(), messages);
  }
}
