// A drawing in DXF or GeoJSON, traced, written as a site file and read again.
#include "linkmargin/linkmargin.hpp"

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>
#include <utility>
#include <vector>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace linkmargin;
  using namespace linkmargin::exchange;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  std::vector<Drawing> drawings;
  if (auto dxf = parse_dxf(text, "fuzz.dxf")) drawings.push_back(std::move(*dxf));
  if (auto geojson = parse_geojson(text, "fuzz.json")) {
    for (Drawing& drawing : *geojson) drawings.push_back(std::move(drawing));
  }
  if (drawings.empty()) return 0;
  const auto plan = traced_plan(std::move(drawings), {}, "m");
  if (!plan) return 0;
  const auto site = traced_site(*plan, "house", "m", embedded_tables());
  if (site && !parse_site(*site, "house.yaml", embedded_tables())) std::abort();  // what is written is sound
  return 0;
}
