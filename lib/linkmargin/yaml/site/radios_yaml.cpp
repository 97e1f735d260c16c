#include "linkmargin/yaml/site/radios_yaml.hpp"

#include "linkmargin/site/layout/cell_union.hpp"
#include "linkmargin/site/layout/room_layout.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/site/trade_words.hpp"
#include "linkmargin/yaml/short_form/area_places.hpp"
#include "linkmargin/yaml/short_form/radio_places.hpp"
#include "linkmargin/yaml/short_form/usual_tables.hpp"
#include "linkmargin/yaml/site/mobility_yaml.hpp"

#include <concepts>

namespace linkmargin::yaml {

Capacity read_capacity(const Cursor& cursor, Faults& faults) {
  Capacity capacity;
  if (cursor.node().kind != Node::Kind::mapping) {
    capacity.total = read_whole(cursor, limits::kCapacity, faults).value_or(0);
    return capacity;
  }
  for_each_named(cursor, limits::kClasses, faults, [&](const Cursor& value, const Entry& entry) {
    capacity.by_class[entry.key] = read_whole(value, limits::kCapacity, faults).value_or(0);
  });
  return capacity;
}

namespace {

/// What the sections of radios are read by.
struct RadioContext {
  const StoreyNames& storeys;
  const PlaceIndex& index;
  Faults& faults;
};

/// For a name that nearly ends in a kind, "hall carbon", "landing smok", "hall PIR": the kind of the longest
/// end.
std::string profile_hint(const std::string& name, const Site& site) {
  std::vector<std::string> known;
  for (const auto& [profile, row] : site.profiles) known.push_back(profile);
  for (std::size_t from = 0; from < name.size(); from = name.find(' ', from) + 1) {
    const std::string end = name.substr(from);
    const auto begins = std::ranges::find_if(
        known, [&](const std::string& profile) { return profile.starts_with(end + " "); });
    if (begins != known.end()) return "did you mean profile: " + *begins + "?";
    const bool whole_name = from == 0 && name.find(' ') != std::string::npos;
    const std::string near = whole_name ? std::string() : name_hint("profile", end, known);
    if (!near.empty()) return near;
    if (name.find(' ', from) == std::string::npos) break;
  }
  return {};
}

/// The profile of a radio that states none; empty, and the key missing, where its name tells nothing.
std::string profile_by_name(std::string_view kind, const std::string& name, const Site& site,
                            ObjectReader& reader, const Faults& faults) {
  const std::string_view found = kind_in_name(site.profiles, name);
  if (!found.empty()) return std::string(found);
  const bool has_own = kind == "hub" || kind == "repeater";
  if (!has_own) reader.missing({"profile"}, faults.full() ? "" : profile_hint(name, site));
  return has_own ? std::string(kind) : std::string();
}

/// `within: house`: all rooms of its storey but those that stand by the house, where no room is called so.
void spread_over_house(const Cursor& may_move, const PlaceIndex& index, const Placement& place,
                       Mobility& mobility, Faults& faults) {
  const auto* within = std::get_if<Mobility::WithinRoom>(&mobility.reach);
  if (within == nullptr || within->room != layout::kHouse || index.rooms().contains(within->room) ||
      place.storey >= index.site().storeys.size())
    return;
  const StoreyMeasures& measures = index.measures(place.storey);
  if (!measures.unplaced.empty()) return faults.doubt(may_move.pointer());
  std::vector<Polygon2> shapes;
  for (const Room& room : index.site().storeys[place.storey].rooms) {
    if (!measures.beside_house.contains(room.name)) shapes.push_back(room.corners);
  }
  if (shapes.empty()) return;
  const auto whole = shapes.size() == 1 ? std::optional(shapes.front()) : layout::united(shapes);
  if (whole) {
    mobility.reach = Mobility::Within{*whole};
  } else {
    add_fault(may_move, DiagnosticCode::impossible, "the rooms of the house make no one outline together",
              "give within a room, or within_m", faults);
  }
}

/// A map of radios or areas.
template <typename Noun>
std::vector<Noun> read_section(const Cursor& map, const char* kind, const Range& count,
                               const RadioContext& context) {
  Faults& faults = context.faults;
  std::vector<Noun> nouns;
  for_each_named(map, count, faults, [&](const Cursor& cursor, const Entry& entry) {
    ObjectReader reader(cursor, label(kind, entry.key), faults);
    Noun& noun = nouns.emplace_back();
    noun.name = entry.key;
    RadioPlaceKeys keys;
    AreaKeys area_keys;
    read_fields(reader, noun, {faults, &context.storeys}, [&](std::string_view key, const Cursor& value) {
      keys.take(key, value);
      area_keys.take(key, value);
      if constexpr (requires { noun.capacity; }) {
        if (key == "capacity") noun.capacity = read_capacity(value, faults);
      }
      if constexpr (requires { noun.mount; }) {
        if (key == "may_move") noun.may_move = read_mobility(value, faults);
        if (key == "mount") noun.mount = read_noun<Mount>(value, "mount", faults);
      }
    });
    if (find(cursor.node(), "profile") == nullptr)
      noun.profile = profile_by_name(kind, entry.key, context.index.site(), reader, faults);
    if constexpr (std::same_as<Noun, Area>) {
      complete_area(cursor, area_keys, context.index, reader, noun, faults);
    } else {
      complete_place(cursor, keys, noun.profile, context.index, reader, noun.place, faults);
      const Node* may_move = find(cursor.node(), "may_move");
      if (may_move != nullptr && noun.may_move && reader.sound())
        spread_over_house(Cursor::at_key(cursor, "may_move", *may_move), context.index, noun.place,
                          *noun.may_move, faults);
    }
    reader.finish();
  });
  return nouns;
}

/// A square that stands for a shape that could not be read.
Polygon2 unread_shape() {
  return rectangle({0, 0}, 1, 1);
}

}  // namespace

void read_radios(std::string_view key, const Cursor& map, const StoreyNames& storeys,
                 const std::vector<StoreyMeasures>& measures, Site& site, Faults& faults) {
  if (key != "hubs" && key != "repeaters" && key != "devices" && key != "areas") return;
  const PlaceIndex index(site, measures);
  const RadioContext context{storeys, index, faults};
  if (key == "hubs") site.hubs = read_section<Hub>(map, "hub", limits::kHubs, context);
  if (map.node().kind == Node::Kind::nothing) return;  // a section left empty says none
  if (key == "repeaters") site.repeaters = read_section<Repeater>(map, "repeater", limits::kRadios, context);
  if (key == "devices") site.devices = read_section<Device>(map, "device", limits::kRadios, context);
  if (key == "areas") site.areas = read_section<Area>(map, "area", limits::kRadios, context);
  for (Area& area : site.areas) {
    if (area.corners.empty()) area.corners = unread_shape();
  }
}

}  // namespace linkmargin::yaml
