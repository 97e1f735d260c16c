#include "linkmargin/yaml/site/radios_yaml.hpp"

#include "linkmargin/base/nearest_name.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/yaml/site/mobility_yaml.hpp"
#include "linkmargin/yaml/site/shapes_yaml.hpp"

#include <algorithm>

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

/// Common practice: where the hand holds a remote, and the share of an area that must be served.
constexpr double kHandHeightM = 1.0;
constexpr double kUsualSharePercent = 95;

/// Reads radios against the names of the storeys.
class RadioReader {
 public:
  RadioReader(const std::vector<Storey>& storeys, bool storeys_known, Faults& faults)
      : storeys_known_(storeys_known), faults_(faults) {
    for (const Storey& storey : storeys) names_.push_back(storey.name);
  }

  Hub hub(const Cursor& cursor, const std::string& name) const;
  Repeater repeater(const Cursor& cursor, const std::string& name) const;
  Device device(const Cursor& cursor, const std::string& name) const;
  Area area(const Cursor& cursor, const std::string& name) const;

 private:
  std::size_t storey(ObjectReader& reader) const;
  Placement placement(ObjectReader& reader) const;
  std::optional<Mobility> may_move(ObjectReader& reader) const;
  std::optional<Mount> mount(ObjectReader& reader) const;

  std::vector<std::string> names_;
  bool storeys_known_;
  Faults& faults_;
};

std::size_t RadioReader::storey(ObjectReader& reader) const {
  const auto value = reader.need("storey");
  const auto name = value ? read_name(*value, faults_) : std::optional<std::string>();
  if (!name) return 0;
  const auto found = std::find(names_.begin(), names_.end(), *name);
  if (found != names_.end()) return static_cast<std::size_t>(found - names_.begin());
  if (storeys_known_) {
    faults_.add(value->mark(), value->pointer(), "unknown storey " + quoted(*name),
                faults_.full() ? "" : nearest_hint(*name, names_));
  }
  return 0;
}

Placement RadioReader::placement(ObjectReader& reader) const {
  Placement place;
  place.storey = storey(reader);
  place.at = read_point(reader, "at_m", faults_);
  place.height_m = reader.number("height_m", limits::kRadioHeightM);
  return place;
}

std::optional<Mobility> RadioReader::may_move(ObjectReader& reader) const {
  const auto value = reader.find("may_move");
  return value ? read_mobility(*value, faults_) : std::optional<Mobility>();
}

std::optional<Mount> RadioReader::mount(ObjectReader& reader) const {
  const auto value = reader.find("mount");
  if (!value) return {};
  constexpr EnumName<Mount::On> grounds[] = {{"metal", Mount::On::metal}};
  ObjectReader inner(*value, "mount", faults_);
  Mount mount;
  inner.need("on");
  mount.on = inner.word_or<Mount::On>("on", grounds, Mount::On::metal);
  mount.gap_m = inner.number("gap_m", limits::kMountGapM);
  mount.faces_deg = inner.number_if("faces_deg", limits::kBearingDeg);
  inner.finish();
  return mount;
}

Hub RadioReader::hub(const Cursor& cursor, const std::string& name) const {
  ObjectReader reader(cursor, label("hub", name), faults_);
  Hub hub;
  hub.name = name;
  hub.profile = reader.name("profile");
  hub.place = placement(reader);
  if (const auto value = reader.find("capacity")) hub.capacity = read_capacity(*value, faults_);
  hub.may_move = may_move(reader);
  hub.near_mains_m = reader.number_if("near_mains_m", limits::kNearMainsM);
  hub.mount = mount(reader);
  hub.fixed = reader.flag_or("fixed", false);
  reader.finish();
  return hub;
}

Repeater RadioReader::repeater(const Cursor& cursor, const std::string& name) const {
  ObjectReader reader(cursor, label("repeater", name), faults_);
  Repeater repeater;
  repeater.name = name;
  repeater.profile = reader.name("profile");
  repeater.place = placement(reader);
  repeater.may_move = may_move(reader);
  repeater.near_mains_m = reader.number_if("near_mains_m", limits::kNearMainsM);
  repeater.mount = mount(reader);
  repeater.fixed = reader.flag_or("fixed", false);
  reader.finish();
  return repeater;
}

Device RadioReader::device(const Cursor& cursor, const std::string& name) const {
  ObjectReader reader(cursor, label("device", name), faults_);
  Device device;
  device.name = name;
  device.profile = reader.name("profile");
  device.place = placement(reader);
  device.slots = reader.whole_or("slots", limits::kSlots, 1);
  device.hub = reader.name_if("hub");
  device.may_move = may_move(reader);
  device.mount_loss_db = reader.number_if("mount_loss_db", limits::kBodyLossDb);
  device.body_loss_db = reader.number_if("body_loss_db", limits::kBodyLossDb);
  device.mount = mount(reader);
  device.note = reader.text_or_empty("note");
  reader.finish();
  return device;
}

Area RadioReader::area(const Cursor& cursor, const std::string& name) const {
  ObjectReader reader(cursor, label("area", name), faults_);
  Area area;
  area.name = name;
  area.profile = reader.name("profile");
  area.storey = storey(reader);
  area.corners = read_shape(reader, limits::kAreaSideM, faults_);
  area.height_m = reader.number_or("height_m", limits::kRadioHeightM, kHandHeightM);
  area.share_percent = reader.number_or("share_percent", limits::kPercent, kUsualSharePercent);
  area.slots = reader.whole_or("slots", limits::kSlots, 1);
  area.hub = reader.name_if("hub");
  reader.finish();
  return area;
}

/// A section with something in it; one left empty says none.
std::optional<Cursor> section(ObjectReader& top, std::string_view key) {
  const auto value = top.find(key);
  return value && value->node().kind == Node::Kind::nothing ? std::optional<Cursor>() : value;
}

/// A square that stands for a shape that could not be read.
Polygon2 unread_shape() {
  return rectangle({0, 0}, 1, 1);
}

}  // namespace

void read_radios(ObjectReader& top, Site& site, bool storeys_known, Faults& faults) {
  const RadioReader reader(site.storeys, storeys_known, faults);
  if (const auto hubs = top.need("hubs")) {
    for_each_named(*hubs, limits::kHubs, faults, [&](const Cursor& cursor, const Entry& entry) {
      site.hubs.push_back(reader.hub(cursor, entry.key));
    });
  }
  if (const auto repeaters = section(top, "repeaters")) {
    for_each_named(*repeaters, limits::kRadios, faults, [&](const Cursor& cursor, const Entry& entry) {
      site.repeaters.push_back(reader.repeater(cursor, entry.key));
    });
  }
  if (const auto devices = section(top, "devices")) {
    for_each_named(*devices, limits::kRadios, faults, [&](const Cursor& cursor, const Entry& entry) {
      site.devices.push_back(reader.device(cursor, entry.key));
    });
  }
  if (const auto areas = section(top, "areas")) {
    for_each_named(*areas, limits::kRadios, faults, [&](const Cursor& cursor, const Entry& entry) {
      site.areas.push_back(reader.area(cursor, entry.key));
      if (site.areas.back().corners.empty()) site.areas.back().corners = unread_shape();
    });
  }
}

}  // namespace linkmargin::yaml
