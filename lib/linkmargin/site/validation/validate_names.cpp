#include "linkmargin/site/validation/checks.hpp"

#include <array>
#include <map>
#include <set>

namespace linkmargin::checks {
namespace {

/// A second item of the same name is addressed by its position: the name would lead to the first.
template <typename Items>
void check_unique(const Items& items, const std::string& list, std::string_view what, Diagnostics& faults) {
  std::set<std::string_view> seen;
  std::size_t position = 0;
  for (const auto& item : items) {
    if (!seen.insert(item.name).second) {
      add(faults, DiagnosticCode::given_twice, list + "/" + std::to_string(position) + "/name",
          "there is more than one " + std::string(what) + " " + quoted(item.name));
    }
    ++position;
  }
}

void check_room_names(const Storey& storey, Diagnostics& faults) {
  std::set<std::string_view> seen;
  for (const Room& room : storey.rooms) {
    const std::string path = pointer({"storeys", storey.name, "rooms", room.name});
    if (room.name == kOutside) {
      add(faults, DiagnosticCode::bad_name, path,
          "a room cannot be named 'outside': that names all that is no room");
    } else if (!seen.insert(room.name).second) {
      add(faults, DiagnosticCode::given_twice, path,
          "there is more than one room " + quoted(room.name) + " in this storey");
    }
  }
}

void check_radio_names(const Site& site, Diagnostics& faults) {
  constexpr std::string_view best = "best";
  static const std::map<std::string_view, std::string> one_of{
      {"hubs", "a hub"}, {"repeaters", "a repeater"}, {"devices", "a device"}};
  std::map<std::string_view, std::string_view> seen;
  for (const SiteRadio& radio : site_radios(site)) {
    const std::string path = pointer({radio.map, radio.name});
    const auto [before, is_new] = seen.emplace(radio.name, radio.map);
    if (!is_new && before->second == radio.map) {
      add(faults, DiagnosticCode::given_twice, path,
          "there is more than one of " + std::string(radio.map) + " named " + quoted(radio.name));
    } else if (!is_new) {
      add(faults, DiagnosticCode::bad_name, path,
          quoted(radio.name) + " is the name of " + one_of.at(before->second) + " already",
          "hubs, repeaters and devices need names of their own");
    }
    if (radio.map == "hubs" && radio.name == best) {
      add(faults, DiagnosticCode::bad_name, path,
          "a hub cannot be named 'best': that asks for the best of all hubs");
    }
  }
}

}  // namespace

void check_names(const Site& site, Diagnostics& faults) {
  check_unique(site.storeys, "/storeys", "storey", faults);
  for (const Storey& storey : site.storeys) {
    const std::string path = pointer({"storeys", storey.name});
    check_room_names(storey, faults);
    check_unique(storey.walls, path + "/walls", "wall", faults);
    check_unique(storey.openings, path + "/openings", "opening", faults);
    check_unique(storey.obstacles, path + "/obstacles", "obstacle", faults);
    check_unique(storey.floor_openings, path + "/floor_openings", "floor opening", faults);
  }
  check_radio_names(site, faults);
  std::set<std::string_view> areas;
  for (const Area& area : site.areas) {
    if (!areas.insert(area.name).second) {
      add(faults, DiagnosticCode::given_twice, pointer({"areas", area.name}),
          "there is more than one area " + quoted(area.name));
    }
  }
  if (site.materials.contains(kNoMaterial)) {
    add(faults, DiagnosticCode::bad_name, pointer({"materials", kNoMaterial}),
        "a material cannot be named 'none': that says that nothing stands there");
  }
}

}  // namespace linkmargin::checks
