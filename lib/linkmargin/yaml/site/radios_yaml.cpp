#include "linkmargin/yaml/site/radios_yaml.hpp"

#include "linkmargin/site/limits.hpp"
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

/// The profile of a radio that states none; empty, and the key missing, where its name tells nothing.
std::string profile_by_name(std::string_view kind, const std::string& name, const Site& site,
                            ObjectReader& reader) {
  const std::string_view found = kind_in_name(site.profiles, name);
  if (!found.empty()) return std::string(found);
  const bool has_own = kind == "hub" || kind == "repeater";
  if (!has_own) reader.missing({"profile"});
  return has_own ? std::string(kind) : std::string();
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
      noun.profile = profile_by_name(kind, entry.key, context.index.site(), reader);
    if constexpr (std::same_as<Noun, Area>) {
      complete_area(cursor, area_keys, context.index, reader, noun, faults);
    } else {
      complete_place(cursor, keys, noun.profile, context.index, reader, noun.place, faults);
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
