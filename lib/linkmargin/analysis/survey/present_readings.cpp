#include "linkmargin/analysis/survey/present_readings.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/base/range.hpp"
#include "linkmargin/link/budget.hpp"
#include "linkmargin/site/edit/edit.hpp"
#include "linkmargin/site/limits.hpp"

#include <algorithm>
#include <optional>

namespace linkmargin {
namespace {

double percent_of(const Site& site, const Reading& reading) {
  return reading.percent ? *reading.percent : reading_percent(site.reading, *reading.level);
}

std::optional<std::string> why_not(const Site& site, const Device& device, const Reading& reading,
                                   Doors doors) {
  if (reading.place && reading.place != device.place) {
    if (percent_of(site, reading) < site.reading.weak_below_percent) return "it was taken elsewhere";
    return "it was taken elsewhere, at (" + coordinate_text(reading.place->at.x) + ", " +
           coordinate_text(reading.place->at.y) +
           "), and is enough there: if it may hang there, try that before anything else";
  }
  if (reading.doors_open && *reading.doors_open != (doors == Doors::open))
    return *reading.doors_open ? "doors were open" : "doors were closed";
  if (reading.hub && device.hub && *reading.hub != *device.hub)
    return "it is of hub '" + *reading.hub + "', the device is enrolled with '" + *device.hub + "'";
  return {};
}

}  // namespace

PresentReadings present_readings(const Site& site, const std::vector<Reading>& readings, Doors doors) {
  PresentReadings present;
  for (std::size_t row = 0; row < readings.size(); ++row) {
    const Reading& reading = readings[row];
    const auto device = std::ranges::find(site.devices, reading.device, &Device::name);
    if (device == site.devices.end()) throw DomainError("unknown device '" + reading.device + "'");
    if (reading.percent) require_in(limits::kPercent, *reading.percent);
    if (const auto why = why_not(site, *device, reading, doors)) {
      present.left_out.push_back("line " + std::to_string(reading.line) + ", '" + reading.device +
                                 "', tells of what is near it, but not how the device reads now: " + *why);
      continue;
    }
    present.of_device[reading.device] = {percent_of(site, reading), reading.hub, row};
  }
  return present;
}

std::vector<std::string> read_weak_warnings(const Site& site, const std::vector<Reading>& readings,
                                            Doors doors, std::span<const Link> links) {
  const PresentReadings present = present_readings(site, readings, doors);
  std::vector<std::string> warnings;
  for (const Link& link : links) {
    const auto read = present.of_device.find(link.device);
    if (!link.serving || link.weak || read == present.of_device.end()) continue;
    if (read->second.percent >= site.reading.weak_below_percent) continue;
    warnings.push_back(
        "'" + link.device + "' was read at " + fixed_text(read->second.percent, 0) +
        " % where it hangs, under the " + fixed_text(site.reading.weak_below_percent, 0) +
        " % it must reach: what was read counts, whatever is predicted. relocate with the same "
        "readings tells what to try");
  }
  return warnings;
}

}  // namespace linkmargin
