#include "linkmargin/report/readings_sheet.hpp"

#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

constexpr const char* kColumns[] = {"device", "hub",   "room", "height_m", "reading_percent",
                                    "doors",  "taken", "via",  "note"};

/// The room, with its storey where another has a room of that name; outside of rooms the storey.
std::string where(const Site& site, const Placement& place) {
  const Storey& storey = site.storeys[place.storey];
  const Room* room = checks::room_at(storey, place.at);
  if (room == nullptr) return storey.name;
  const auto same = std::ranges::count_if(
      site.storeys, [&](const Storey& other) { return checks::find_room(other, room->name) != nullptr; });
  return same > 1 ? room->name + " (" + storey.name + ")" : room->name;
}

Row row(const Site& site, const std::string& name, const std::string& hub, const Placement& place,
        const std::string& note) {
  const Cell empty{};
  return {{{name}, {hub}, {where(site, place)}, {place.height_m}, empty, empty, empty, empty, {note}}};
}

}  // namespace

Table readings_sheet(const Site& site) {
  Table sheet;
  for (const char* key : kColumns) sheet.columns.push_back({.key = key});
  for (const Device& device : site.devices)
    sheet.rows.push_back(row(site, device.name, device.hub.value_or(""), device.place, device.note));
  for (const Repeater& repeater : site.repeaters)
    sheet.rows.push_back(row(site, repeater.name, "", repeater.place, ""));
  return sheet;
}

}  // namespace linkmargin
