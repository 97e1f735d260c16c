#include "linkmargin/analysis/present_readings.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/link/budget.hpp"

#include <algorithm>
#include <optional>

namespace linkmargin {
namespace {

std::optional<std::string> why_not(const Site& site, const Reading& reading, Doors doors) {
  if (reading.place) {
    const double percent = reading.percent ? *reading.percent : reading_percent(site.reading, *reading.level);
    if (percent < site.reading.weak_below_percent) return "it was taken elsewhere";
    return "it was taken elsewhere, at (" + shortest_text(reading.place->at.x) + ", " +
           shortest_text(reading.place->at.y) +
           "), and is enough there: if it may hang there, try that before anything else";
  }
  if (reading.doors_open && *reading.doors_open != (doors == Doors::open))
    return *reading.doors_open ? "doors were open" : "doors were closed";
  const auto device = std::ranges::find(site.devices, reading.device, &Device::name);
  if (reading.hub && device->hub && *reading.hub != *device->hub)
    return "it is of hub '" + *reading.hub + "', the device is enrolled with '" + *device->hub + "'";
  return {};
}

}  // namespace

PresentReadings present_readings(const Site& site, const std::vector<Reading>& readings, Doors doors) {
  PresentReadings present;
  for (const Reading& reading : readings) {
    if (const auto why = why_not(site, reading, doors)) {
      present.left_out.push_back("line " + std::to_string(reading.line) + ", '" + reading.device +
                                 "', is left out: " + *why);
      continue;
    }
    present.percent[reading.device] =
        reading.percent ? *reading.percent : reading_percent(site.reading, *reading.level);
  }
  return present;
}

}  // namespace linkmargin
