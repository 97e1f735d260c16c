#include "linkmargin/yaml/writer/pinned_places.hpp"

#include "linkmargin/base/diagnostic.hpp"
#include "linkmargin/site/edit/edit.hpp"
#include "linkmargin/site/layout/length_text.hpp"
#include "linkmargin/yaml/tree/source_span.hpp"
#include "linkmargin/yaml/writer/field_values.hpp"
#include "linkmargin/yaml/writer/insert_entry.hpp"
#include "linkmargin/yaml/writer/radio_places_text.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace linkmargin::yaml {
namespace {

using Splices = std::optional<std::vector<Splice>>;

const Entry* find_entry(const Node* map, std::string_view key) {
  if (map == nullptr) return nullptr;
  const auto found = std::ranges::find(map->entries, key, &Entry::key);
  return found == map->entries.end() ? nullptr : &*found;
}

/// Puts a value in the place of one that stands there, or adds the key.
/// @param after  the key that a new one follows; the last where the map does not have it
Splices set_key(std::string_view text, const Node& map, std::string_view key, NewValue value,
                std::string_view after = "") {
  const Entry* there = find_entry(&map, key);
  const NewEntry entry = with_length_unit({std::string(key), std::move(value)}, map.length_unit);
  return there == nullptr ? insert_entry(text, map, after, entry) : replace_entry(text, map, *there, entry);
}

struct Found {
  const Node* section = nullptr;
  const Entry* entry = nullptr;
};

Found radio_entry(const Node& root, std::string_view section, std::string_view name) {
  const Node* map = find(root, section);
  return {map, find_entry(map, name)};
}

template <typename Radio>
std::optional<Pin> radio_pin(std::string_view text, const Node& root, const char* section,
                             const std::vector<Radio>& reads, const std::vector<Radio>& wanted,
                             const Site& site) {
  for (std::size_t i = 0; i < std::min(reads.size(), wanted.size()); ++i) {
    if (reads[i].place == wanted[i].place) continue;
    const Found at = radio_entry(root, section, wanted[i].name);
    if (at.entry == nullptr || !is_short_radio(at.entry->value)) return std::nullopt;
    const Placement& place = wanted[i].place;
    const bool height_alone = reads[i].place.storey == place.storey && reads[i].place.at == place.at;
    auto splices = height_alone ? set_key(text, at.entry->value, "height_m",
                                          literal_value(shortest_text(place.height_m)))
                                : long_radio(text, *at.section, *at.entry, wanted[i].profile, place, site);
    if (!splices) return std::nullopt;
    const std::string path = "/" + std::string(section) + "/" + pointer_token(wanted[i].name);
    return Pin{height_alone ? path + "/height_m" : path, std::move(*splices)};
  }
  return Pin{};
}

/// The item of a list of a storey that has this name.
const Node* item_of(const Node* storey, std::string_view list, const std::string& name) {
  const Node* items = storey == nullptr ? nullptr : find(*storey, list);
  return items == nullptr ? nullptr : child(*items, name, list);
}

const Node* storey_node(const Node& root, const std::string& name) {
  const Node* list = find(root, "storeys");
  return list == nullptr ? nullptr : child(*list, name, "storeys");
}

/// An opening with `at_m` in the place of a distance from the end of its wall.
Splices with_coordinates(std::string_view text, const Node& opening, Point2 at) {
  for (const Entry& entry : opening.entries) {
    if (!entry.key.starts_with("from_")) continue;
    const auto end = value_end(text, entry);
    if (!end) return {};
    const NewEntry place = with_length_unit({"at_m", literal_value(point_text(at))}, opening.length_unit);
    return std::vector<Splice>{{entry.begin, *end - entry.begin, flow_text(place, Quotes::as_needed)}};
  }
  return set_key(text, opening, "at_m", literal_value(point_text(at)));
}

std::optional<Pin> storey_pin(std::string_view text, const Node& root, const Storey& reads,
                              const Storey& wanted) {
  const Node* node = storey_node(root, wanted.name);
  const std::string path = "/storeys/" + pointer_token(wanted.name);
  const auto pin = [](std::string where, Splices splices) {
    return splices ? std::optional(Pin{std::move(where), std::move(*splices)}) : std::nullopt;
  };
  if (node == nullptr) return std::nullopt;
  if (reads.level_m != wanted.level_m)
    return pin(path + "/level_m",
               set_key(text, *node, "level_m", literal_value(shortest_text(wanted.level_m)), "name"));
  struct Made {
    const char* key;
    std::optional<Construction> reads;
    std::optional<Construction> wanted;
  };
  const std::array<Made, 4> made{Made{"outer_wall", reads.outer_wall, wanted.outer_wall},
                                 Made{"inner_wall", reads.inner_wall, wanted.inner_wall},
                                 Made{"floor", reads.floor, wanted.floor},
                                 Made{"roof", reads.roof, wanted.roof}};
  for (const Made& one : made) {
    if (one.reads != one.wanted && one.wanted)
      return pin(path + "/" + one.key, set_key(text, *node, one.key, construction_value(*one.wanted)));
  }
  for (std::size_t i = 0; i < std::min(reads.openings.size(), wanted.openings.size()); ++i) {
    const Opening& opening = wanted.openings[i];
    if (reads.openings[i].at == opening.at) continue;
    const Node* item = item_of(node, "openings", opening.name);
    if (item == nullptr) return std::nullopt;
    return pin(path + "/openings/" + pointer_token(opening.name), with_coordinates(text, *item, opening.at));
  }
  return Pin{};
}

const Room* room_named(const Storey& storey, std::string_view name) {
  const auto found = std::ranges::find(storey.rooms, name, &Room::name);
  return found == storey.rooms.end() ? nullptr : &*found;
}

/// The place of a radio as the site has it, or nothing.
std::optional<Placement> place_of(const Site& site, const std::string& section, const std::string& name) {
  const auto in = [&](const auto& radios) -> std::optional<Placement> {
    for (const auto& radio : radios) {
      if (radio.name == name) return radio.place;
    }
    return {};
  };
  if (section == "hubs") return in(site.hubs);
  return section == "repeaters" ? in(site.repeaters) : in(site.devices);
}

}  // namespace

std::optional<Pin> next_pin(std::string_view text, const Node& root, const Site& reads, const Site& wanted) {
  for (std::size_t i = 0; i < std::min(reads.storeys.size(), wanted.storeys.size()); ++i) {
    auto pin = storey_pin(text, root, reads.storeys[i], wanted.storeys[i]);
    if (!pin || !pin->path.empty()) return pin;
  }
  auto pin = radio_pin(text, root, "hubs", reads.hubs, wanted.hubs, wanted);
  if (pin && pin->path.empty())
    pin = radio_pin(text, root, "repeaters", reads.repeaters, wanted.repeaters, wanted);
  if (pin && pin->path.empty()) pin = radio_pin(text, root, "devices", reads.devices, wanted.devices, wanted);
  return pin;
}

std::optional<std::vector<Splice>> moved_in_words(std::string_view text, const Node& root, const Site& site,
                                                  const std::vector<std::string>& names, Point2 at) {
  const Node& radio = radio_entry(root, names[0], names[1]).entry->value;
  const Node* in = find(radio, "in");
  const Node* on = find(radio, "on");
  const auto place = place_of(site, names[0], names[1]);
  if (!place || on != nullptr) return std::nullopt;
  const Room* room = room_named(site.storeys[place->storey], in->text);
  if (room == nullptr || !contains(room->corners, snapped(at))) return std::nullopt;
  const Point2 corner = bounding_box(layout::as_typed(room->corners)).min;
  const auto millimetres = [](double m) { return shortest_text(std::round(m * 1e3) / 1e3); };
  auto splices =
      set_key(text, radio, "at",
              literal_value("[" + millimetres(at.x - corner.x) + ", " + millimetres(at.y - corner.y) + "]"));
  return splices ? std::optional(std::move(*splices)) : std::nullopt;
}

bool is_place_in_words(const Node& root, const std::vector<std::string>& names) {
  const bool is_place = names.size() == 3 && (names[2] == "at_m" || names[2] == "storey") &&
                        (names[0] == "hubs" || names[0] == "repeaters" || names[0] == "devices");
  const Found found = is_place ? radio_entry(root, names[0], names[1]) : Found{};
  return found.entry != nullptr &&
         (find(found.entry->value, "in") != nullptr || find(found.entry->value, "on") != nullptr);
}

}  // namespace linkmargin::yaml
