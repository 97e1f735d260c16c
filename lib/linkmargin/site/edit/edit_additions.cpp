#include "linkmargin/base/nearest_name.hpp"
#include "linkmargin/site/edit/edit_setter.hpp"
#include "linkmargin/site/edit/edit_target.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>
#include <utility>

namespace linkmargin::edits {
namespace {

/// Where a new radio stands, or nothing and its faults.
std::optional<Placement> placement(const EditContext& task, const NewRadio& added) {
  const auto storey = storey_position(task, added.storey);
  if (!storey) return {};
  return Placement{*storey, snapped(added.at), added.height_m};
}

/// The new one, at its place and with its name; nullptr and faults when it cannot be.
template <typename Radio, typename New>
Radio* add_to(const EditContext& task, const New& whole, const NewRadio& added, std::vector<Radio>& radios,
              const std::string& what, const Range& count) {
  if (std::ranges::find(radios, task.key(), &Radio::name) != radios.end()) {
    task.fault(DiagnosticCode::given_twice,
               "there is a " + what + " " + checks::quoted(task.key()) + " already");
    return nullptr;
  }
  const bool sound = check_name(task, "name", task.key()) && check_stated(task, whole);
  const auto place = sound ? placement(task, added) : std::nullopt;
  if (!place || !check_range(task, std::string(count.name), count, static_cast<double>(radios.size() + 1)))
    return nullptr;
  Radio& radio = radios.emplace_back();
  radio.name = task.key();
  radio.profile = added.profile;
  radio.place = *place;
  return &radio;
}

bool check_capacity(const EditContext& task, const NewRadio& added) {
  if (!added.capacity) return true;
  const auto fits = [&](int slots) { return check_range(task, "capacity", limits::kCapacity, slots); };
  return (!added.capacity->total || fits(*added.capacity->total)) &&
         std::ranges::all_of(added.capacity->by_class, [&](const auto& entry) { return fits(entry.second); });
}

/// The storey that a path leads through, or nullptr and a fault.
Storey* storey_of(const EditContext& task) {
  const auto at = storey_position(task, task.names[1]);
  return at ? &task.site.storeys[*at] : nullptr;
}

template <typename Items>
void remove_from(const EditContext& task, Items& items, const std::string& what) {
  const auto found = std::ranges::find(items, task.key(), &Items::value_type::name);
  if (found != items.end()) {
    items.erase(found);
    return;
  }
  task.unknown(what, task.key(), nearest_hint(task.key(), checks::names_of(items)));
}

void remove_from_storey(const EditContext& task) {
  Storey* storey = storey_of(task);
  if (storey == nullptr) return;
  const std::string& list = task.names[2];
  if (list == "openings") return remove_from(task, storey->openings, "opening");
  if (list == "obstacles") return remove_from(task, storey->obstacles, "obstacle");
  if (list == "walls") return remove_from(task, storey->walls, "wall");
  task.fault(DiagnosticCode::unreachable, "of a storey only openings, obstacles and walls can be taken away");
}

template <typename Radios>
void remove_mount(const EditContext& task, Radios& radios, const std::string& what) {
  const std::string& name = task.names[1];
  const auto found = std::ranges::find(radios, name, &Radios::value_type::name);
  if (found == radios.end()) return task.unknown(what, name, nearest_hint(name, checks::names_of(radios)));
  if (!found->mount)
    return task.fault(DiagnosticCode::unreachable, checks::quoted(name) + " has no mount to take away");
  found->mount.reset();
}

}  // namespace

void add_radio(const EditContext& task) {
  const auto& added = std::get<NewRadio>(task.edit.value);
  const std::string& section = task.names.front();
  if (task.names.size() == 2 && section == "hubs") {
    if (!check_capacity(task, added)) return;
    Hub* hub = add_to(task, added, added, task.site.hubs, "hub", limits::kHubs);
    if (hub != nullptr) hub->capacity = added.capacity;
  } else if (task.names.size() == 2 && section == "repeaters") {
    if (!check_capacity(task, added)) return;
    Repeater* repeater = add_to(task, added, added, task.site.repeaters, "repeater", limits::kRadios);
    if (repeater != nullptr) repeater->capacity = added.capacity;
  } else {
    task.fault(DiagnosticCode::unreachable, "a hub or repeater can be added under /hubs or /repeaters only");
  }
}

void add_device(const EditContext& task) {
  const auto& added = std::get<NewDevice>(task.edit.value);
  if (task.names.size() != 2 || task.names.front() != "devices")
    return task.fault(DiagnosticCode::unreachable, "a device can be added under /devices only");
  Device* device = add_to(task, added, added.radio, task.site.devices, "device", limits::kRadios);
  if (device == nullptr) return;
  device->slots = added.slots.value_or(device->slots);
  device->hub = added.hub;
  device->mount_loss_db = added.mount_loss_db;
}

void add_obstacle(const EditContext& task) {
  const auto& added = std::get<Obstacle>(task.edit.value);
  if (task.names.size() != 4 || task.names.front() != "storeys" || task.names[2] != "obstacles")
    return task.fault(DiagnosticCode::unreachable,
                      "an obstacle can be added under /storeys/NAME/obstacles only");
  Storey* storey = storey_of(task);
  if (storey == nullptr || !check_name(task, "name", task.key())) return;
  auto& obstacles = storey->obstacles;
  if (std::ranges::find(obstacles, task.key(), &Obstacle::name) != obstacles.end())
    return task.fault(DiagnosticCode::given_twice,
                      "there is an obstacle " + checks::quoted(task.key()) + " already");
  for (const Point2 corner : added.corners) {
    if (!check_point(task, "corners_m", corner)) return;
  }
  const bool sound = check_stated(task, added) && check_range(task, "obstacles", limits::kFixtures,
                                                              static_cast<double>(obstacles.size() + 1));
  if (!sound) return;
  obstacles.push_back(added);
  obstacles.back().name = task.key();
}

void remove(const EditContext& task) {
  const std::string& section = task.names.front();
  if (task.names.size() == 4 && section == "storeys") return remove_from_storey(task);
  if (task.names.size() == 2 && section == "hubs") return remove_from(task, task.site.hubs, "hub");
  if (task.names.size() == 2 && section == "repeaters")
    return remove_from(task, task.site.repeaters, "repeater");
  if (task.names.size() == 2 && section == "devices") return remove_from(task, task.site.devices, "device");
  if (task.names.size() == 2 && section == "areas") return remove_from(task, task.site.areas, "area");
  if (task.names.size() == 3 && task.key() == "mount") {
    if (section == "hubs") return remove_mount(task, task.site.hubs, "hub");
    if (section == "repeaters") return remove_mount(task, task.site.repeaters, "repeater");
    if (section == "devices") return remove_mount(task, task.site.devices, "device");
  }
  task.fault(
      DiagnosticCode::unreachable,
      "only hubs, repeaters, devices, their mounts, areas, and a storey's openings, obstacles and walls "
      "can be taken away");
}

}  // namespace linkmargin::edits
