#include "linkmargin/prediction/present_readings.hpp"

#include "linkmargin/base/range.hpp"
#include "linkmargin/link/budget.hpp"
#include "linkmargin/prediction/serving/serving.hpp"
#include "linkmargin/site/limits.hpp"

#include <algorithm>
#include <optional>
#include <utility>

namespace linkmargin {
namespace {

/// "2026-03-01" and what is longer begin with a date (moment_text()).
constexpr std::size_t kDateWidth = 10;

double percent_of(const Site& site, const Reading& reading) {
  return reading.percent ? *reading.percent : reading_percent(site.reading, *reading.level);
}

Warning told_elsewhere(const Site& site, const Device& device, const Reading& reading) {
  if (percent_of(site, reading) < site.reading.weak_below_percent)
    return Warning{.code = WarningCode::reading_elsewhere};
  return Warning{
      .code = WarningCode::reading_elsewhere_enough,
      .arguments = {
          {"far", LengthFigure{distance(site.point(*reading.place), site.point(device.place)), 2}}}};
}

/// Why a reading tells nothing of a device as it is, wherever it was taken.
std::optional<Warning> why_not(const Device& device, const Reading& reading, Doors doors) {
  if (reading.doors_open && *reading.doors_open != (doors == Doors::open))
    return Warning{.code = *reading.doors_open ? WarningCode::reading_doors_open
                                               : WarningCode::reading_doors_closed};
  const auto of_other = [](const std::optional<std::string>& read,
                           const std::optional<std::string>& enrolled) {
    return read && enrolled && *read != *enrolled;
  };
  const auto told = [](const std::string& read, const std::string& enrolled) {
    return Warning{.code = WarningCode::reading_of_other_hub,
                   .arguments = {{"hub", Quoted{read}}, {"enrolled", Quoted{enrolled}}}};
  };
  const bool by_repeater = device.via && *device.via != kDirect;
  if (of_other(reading.via, device.via))
    return told(*reading.via, by_repeater ? *device.via : device.hub.value_or(*device.via));
  if (by_repeater && reading.hub && !reading.via) return told(*reading.hub, *device.via);
  if (of_other(reading.hub, device.hub)) return told(*reading.hub, *device.hub);
  return {};
}

Device read_device(const Site& site, const Reading& reading) {
  const auto device = std::ranges::find(site.devices, reading.device, &Device::name);
  if (device != site.devices.end()) return *device;
  const auto repeater = std::ranges::find(site.repeaters, reading.device, &Repeater::name);
  if (repeater == site.repeaters.end()) throw DomainError("unknown device '" + reading.device + "'");
  return as_device(*repeater);
}

/// Rows in the order in which they were taken: by date where all of one device have one.
void sort_by_moment(const std::vector<Reading>& readings, std::vector<std::size_t>& rows) {
  const auto has_date = [&](std::size_t row) { return readings[row].taken.size() >= kDateWidth; };
  const auto has_time = [&](std::size_t row) { return !readings[row].taken.empty() && !has_date(row); };
  if (!std::ranges::all_of(rows, has_date) && !std::ranges::all_of(rows, has_time)) return;
  std::ranges::stable_sort(rows, {}, [&](std::size_t row) { return readings[row].taken; });
}

}  // namespace

PresentReadings present_readings(const Site& site, const std::vector<Reading>& readings, Doors doors) {
  PresentReadings present;
  std::map<std::string, std::vector<std::size_t>> rows_of;
  for (std::size_t row = 0; row < readings.size(); ++row) {
    const Reading& reading = readings[row];
    const Device device = read_device(site, reading);
    if (reading.percent) require_in(limits::kPercent, *reading.percent);
    const bool is_elsewhere = reading.place && reading.place != device.place;
    auto why = why_not(device, reading, doors);
    if (is_elsewhere) {
      if (!why) present.elsewhere[reading.device].push_back({*reading.place, percent_of(site, reading)});
      why = told_elsewhere(site, device, reading);
    }
    if (why) {
      why->arguments.push_back({"line", std::to_string(reading.line)});
      why->arguments.push_back({"device", Quoted{reading.device}});
      present.left_out.push_back(std::move(*why));
      continue;
    }
    rows_of[reading.device].push_back(row);
  }
  for (auto& [device, rows] : rows_of) {
    sort_by_moment(readings, rows);
    const Reading& last = readings[rows.back()];
    PresentReading& found = present.of_device[device];
    found = {percent_of(site, last), last.hub, last.via, rows.back(), {}};
    rows.pop_back();
    for (const std::size_t row : rows) found.earlier_percent.push_back(percent_of(site, readings[row]));
  }
  return present;
}

std::vector<ElsewhereReading> PresentReadings::elsewhere_of(const std::string& device) const {
  const auto found = elsewhere.find(device);
  return found == elsewhere.end() ? std::vector<ElsewhereReading>() : found->second;
}

const PresentReading* PresentReadings::find(const std::string& device) const {
  const auto found = of_device.find(device);
  return found == of_device.end() ? nullptr : &found->second;
}

}  // namespace linkmargin
