#include "linkmargin/site/edit/edit_target.hpp"

#include "linkmargin/site/edit/edit_setter.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/site/trade_words.hpp"

#include <charconv>
#include <utility>

namespace linkmargin::edits {
namespace {

std::optional<std::size_t> position(const std::string& name, std::size_t count) {
  std::size_t position = 0;
  const auto end = std::from_chars(name.data(), name.data() + name.size(), position);
  const bool is_number = end.ec == std::errc() && end.ptr == name.data() + name.size();
  return is_number && position < count ? std::optional(position) : std::nullopt;
}

enum class By { name, name_or_position };

/// The item of a map or list that a name of the path leads to, or nullptr and a fault.
template <typename Items>
auto* item(const EditContext& task, Items& items, std::size_t name_at, const char* what, By by) {
  const std::string& name = task.names[name_at];
  const auto found = std::ranges::find(items, name, &Items::value_type::name);
  if (found != items.end()) return &*found;
  const auto at = by == By::name_or_position ? position(name, items.size()) : std::nullopt;
  if (at) return &items[*at];
  task.unknown(what, name, nearest_hint(name, checks::names_of(items)));
  return static_cast<typename Items::value_type*>(nullptr);
}

PropagationSettings* radio(const EditContext& task) {
  return &task.site.radio;
}
ReadingScale* reading(const EditContext& task) {
  return &task.site.reading;
}
Calibration* calibration(const EditContext& task) {
  if (!task.site.calibration) task.site.calibration.emplace();
  return &*task.site.calibration;
}

LearnedShift* learned(const EditContext& task) {
  auto& materials = calibration(task)->materials;
  const std::string& name = task.names[2];
  if (materials.contains(name) || task.key() == "shift_db") return &materials[name];
  task.fault(DiagnosticCode::unreachable, "nothing is learned of " + checks::quoted(name) + " yet",
             "set its shift_db first");
  return nullptr;
}

Hub* hub(const EditContext& task) {
  return item(task, task.site.hubs, 1, "hub", By::name);
}
Repeater* repeater(const EditContext& task) {
  return item(task, task.site.repeaters, 1, "repeater", By::name);
}
Device* device(const EditContext& task) {
  return item(task, task.site.devices, 1, "device", By::name);
}
Area* area(const EditContext& task) {
  return item(task, task.site.areas, 1, "area", By::name);
}
Storey* storey(const EditContext& task) {
  return item(task, task.site.storeys, 1, "storey", By::name_or_position);
}

Material* material(const EditContext& task) {
  const auto found = task.site.materials.find(task.names[1]);
  if (found != task.site.materials.end()) return &found->second;
  task.unknown("material", task.names[1],
               name_hint("material", task.names[1], checks::keys(task.site.materials)));
  return nullptr;
}

/// The mount of a radio that has one.
template <auto Find>
Mount* mount(const EditContext& task) {
  auto* radio = Find(task);
  if (radio == nullptr) return nullptr;
  if (radio->mount) return &*radio->mount;
  task.fault(DiagnosticCode::unreachable,
             checks::quoted(radio->name) + " has no mount that an edit could change");
  return nullptr;
}

Construction* stated(const EditContext& task, Construction* construction) {
  if (construction != nullptr && !construction->material.empty()) return construction;
  task.fault(DiagnosticCode::unreachable,
             "the storey says nothing of its " + task.names[2] + " that an edit could change");
  return nullptr;
}

/// The roof of a room that has one of its own.
Construction* room_roof(const EditContext& task) {
  Storey* found = storey(task);
  Room* room = found == nullptr ? nullptr : item(task, found->rooms, 3, "room", By::name);
  if (room == nullptr) return nullptr;
  if (room->roof) return &*room->roof;
  task.fault(DiagnosticCode::unreachable,
             "room " + checks::quoted(room->name) + " has no roof of its own that an edit could change");
  return nullptr;
}

template <Construction Storey::*Wall>
Construction* usual_wall(const EditContext& task) {
  Storey* found = storey(task);
  return found == nullptr ? nullptr : stated(task, &(found->*Wall));
}

template <std::optional<Construction> Storey::*Slab>
Construction* slab(const EditContext& task) {
  Storey* found = storey(task);
  return found == nullptr ? nullptr : stated(task, found->*Slab ? &*(found->*Slab) : nullptr);
}

Boundary* boundary(const EditContext& task) {
  Storey* found = storey(task);
  if (found == nullptr) return nullptr;
  const std::string& name = task.names[3];
  const auto goes = [&](const Boundary& one) { return one.goes_by(name); };
  if (std::ranges::count_if(found->boundaries, goes) > 1) {
    task.fault(DiagnosticCode::unknown_name, "more than one boundary goes by " + checks::quoted(name),
               "give its position, from 0");
    return nullptr;
  }
  const auto known = std::ranges::find_if(found->boundaries, goes);
  if (known != found->boundaries.end()) return &*known;
  if (const auto at = position(name, found->boundaries.size())) return &found->boundaries[*at];
  std::vector<std::string> names;
  for (const Boundary& one : found->boundaries) names.push_back(one.first + " and " + one.second);
  const std::string near = nearest_hint(name, names);
  task.fault(DiagnosticCode::unknown_name, "the storey has no boundary " + checks::quoted(name),
             near.empty() ? "a boundary goes by its two rooms, as in \"shop and hall\"" : near);
  return nullptr;
}

TracedWall* wall(const EditContext& task) {
  Storey* found = storey(task);
  return found == nullptr ? nullptr : item(task, found->walls, 3, "wall", By::name_or_position);
}
Opening* opening(const EditContext& task) {
  Storey* found = storey(task);
  return found == nullptr ? nullptr : item(task, found->openings, 3, "opening", By::name_or_position);
}
Obstacle* obstacle(const EditContext& task) {
  Storey* found = storey(task);
  return found == nullptr ? nullptr : item(task, found->obstacles, 3, "obstacle", By::name_or_position);
}

template <auto Find>
void set_in(const EditContext& task) {
  if (auto* noun = Find(task)) set_key(task, *noun);
}

template <auto Find>
EditTarget place(std::vector<std::string_view> pattern) {
  using Noun = std::remove_pointer_t<decltype(Find(std::declval<const EditContext&>()))>;
  return {std::move(pattern), set_in<Find>, key_names<Noun>};
}

}  // namespace

std::span<const EditTarget> places() {
  static const std::vector<EditTarget> rows{
      place<radio>({"radio"}),
      place<reading>({"reading"}),
      place<calibration>({"calibration"}),
      place<learned>({"calibration", "materials", "*"}),
      place<material>({"materials", "*"}),
      place<storey>({"storeys", "*"}),
      place<usual_wall<&Storey::outer_wall>>({"storeys", "*", "outer_wall"}),
      place<usual_wall<&Storey::inner_wall>>({"storeys", "*", "inner_wall"}),
      place<slab<&Storey::floor>>({"storeys", "*", "floor"}),
      place<slab<&Storey::roof>>({"storeys", "*", "roof"}),
      place<room_roof>({"storeys", "*", "rooms", "*", "roof"}),
      place<boundary>({"storeys", "*", "boundaries", "*"}),
      place<wall>({"storeys", "*", "walls", "*"}),
      place<opening>({"storeys", "*", "openings", "*"}),
      place<obstacle>({"storeys", "*", "obstacles", "*"}),
      place<hub>({"hubs", "*"}),
      place<mount<hub>>({"hubs", "*", "mount"}),
      place<repeater>({"repeaters", "*"}),
      place<mount<repeater>>({"repeaters", "*", "mount"}),
      place<device>({"devices", "*"}),
      place<mount<device>>({"devices", "*", "mount"}),
      place<area>({"areas", "*"})};
  return rows;
}

}  // namespace linkmargin::edits
