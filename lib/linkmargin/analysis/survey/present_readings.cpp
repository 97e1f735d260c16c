#include "linkmargin/analysis/survey/present_readings.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/base/range.hpp"
#include "linkmargin/link/budget.hpp"
#include "linkmargin/site/edit/edit.hpp"
#include "linkmargin/site/limits.hpp"

#include <algorithm>
#include <optional>
#include <utility>

namespace linkmargin {
namespace {

/// As the site file holds it.
Figure coordinate(double coordinate_m) {
  return {*parse_number(coordinate_text(coordinate_m))};
}

double percent_of(const Site& site, const Reading& reading) {
  return reading.percent ? *reading.percent : reading_percent(site.reading, *reading.level);
}

std::optional<Warning> why_not(const Site& site, const Device& device, const Reading& reading, Doors doors) {
  if (reading.place && reading.place != device.place) {
    if (percent_of(site, reading) < site.reading.weak_below_percent)
      return Warning{.code = WarningCode::reading_elsewhere};
    return Warning{
        .code = WarningCode::reading_elsewhere_enough,
        .arguments = {{"x", coordinate(reading.place->at.x)}, {"y", coordinate(reading.place->at.y)}}};
  }
  if (reading.doors_open && *reading.doors_open != (doors == Doors::open))
    return Warning{.code = *reading.doors_open ? WarningCode::reading_doors_open
                                               : WarningCode::reading_doors_closed};
  if (reading.hub && device.hub && *reading.hub != *device.hub)
    return Warning{.code = WarningCode::reading_of_other_hub,
                   .arguments = {{"hub", Quoted{*reading.hub}}, {"enrolled", Quoted{*device.hub}}}};
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
    if (auto why = why_not(site, *device, reading, doors)) {
      why->arguments.push_back({"line", std::to_string(reading.line)});
      why->arguments.push_back({"device", Quoted{reading.device}});
      present.left_out.push_back(std::move(*why));
      continue;
    }
    present.of_device[reading.device] = {percent_of(site, reading), reading.hub, row};
  }
  return present;
}

std::vector<Warning> read_weak_warnings(const Site& site, const std::vector<Reading>& readings, Doors doors,
                                        std::span<const Link> links) {
  const PresentReadings present = present_readings(site, readings, doors);
  std::vector<Warning> warnings;
  for (const Link& link : links) {
    const auto read = present.of_device.find(link.device);
    if (!link.serving || link.weak || read == present.of_device.end()) continue;
    if (read->second.percent >= site.reading.weak_below_percent) continue;
    warnings.push_back({.code = WarningCode::read_weak,
                        .arguments = {{"device", Quoted{link.device}},
                                      {"percent", Figure{read->second.percent, 0}},
                                      {"threshold", Figure{site.reading.weak_below_percent, 0}}}});
  }
  return warnings;
}

}  // namespace linkmargin
