// A site file, and where it is sound and very small: the flows of a job from end to end.
#include "linkmargin/linkmargin.hpp"

#include "small_site.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <string_view>
#include <vector>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace linkmargin;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const auto site = parse_site(text, "fuzz.yaml", embedded_tables());
  if (!site || !site->areas.empty() || !is_small(*site, 8, 5)) return 0;
  const Language& words = built_in_language("en");
  const LinkTable table = link_table(*site);
  for (const Link& link : table.links) {
    const Relocation found = relocation(*site, {.devices = {link.device}});
    explain_document(words, *site, table, link, nullptr, &found);
    edited_site(*site, chosen_edits(found));
  }
  if (!site->devices.empty() && !site->hubs.empty()) {
    const CoverageMap map = coverage(*site, {.step_m = kCoverageStepM.max, .within_db = 0.5});
    floor_plan_svg(words, *site);
    std::vector<Reading> readings;
    for (const Device& device : site->devices) {
      Reading reading;
      reading.device = device.name;
      reading.percent = static_cast<double>(10 * std::min<std::size_t>(readings.size() + map.size() % 3, 9));
      readings.push_back(reading);
    }
    calibration({{*site, readings}});
    link_table(*site, {.readings = readings});
  }
  return 0;
}
