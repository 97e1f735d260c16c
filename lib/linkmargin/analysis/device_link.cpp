#include "linkmargin/analysis/device_link.hpp"

#include "linkmargin/link/metal_mount.hpp"
#include "linkmargin/link/noise_rise.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

/// What a receiver shows at a level.
double shown_percent(const ReadingScale& scale, const Direction& way, Dbm level) {
  const bool heard = level >= way.level - way.margin;
  return heard ? reading_percent(scale, level) : 0;
}

void add_chances(const Site& site, const Reliability& reliability, Link& link) {
  const double sigma_db = link.loss.sigma_db;
  const bool in_sight = link.loss.in_sight;
  const auto chance = [&](const Direction& way) {
    return reliability.chance(way.level, needed_level(site.reading, way), sigma_db, in_sight);
  };
  link.pass_probability = chance(link.uplink);
  if (link.downlink) link.pass_probability = std::min(link.pass_probability, chance(*link.downlink));
  const Direction& way = link.weaker();
  const LevelInterval levels = reliability.interval(way.level, kIntervalChance, sigma_db, in_sight);
  link.low_percent = shown_percent(site.reading, way, levels.low);
  link.high_percent = shown_percent(site.reading, way, levels.high);
  link.outage = reliability.outage(way.margin);
}

}  // namespace

const Direction& Link::lower() const {
  if (!downlink || downlink->reading_percent == uplink.reading_percent) return weaker();
  return downlink->reading_percent < uplink.reading_percent ? *downlink : uplink;
}

Db Link::shortfall(const ReadingScale& scale) const {
  const auto missing = [&](const Direction& way) { return needed_level(scale, way) - way.level; };
  return downlink ? std::max(missing(uplink), missing(*downlink)) : missing(uplink);
}

Link device_link(const Site& site, const Device& device, const HubVantage& hub,
                 const Reliability& reliability) {
  Link link;
  link.device = device.name;
  link.hub = hub.name;
  const Point3 at = site.point(device.place);
  link.loss = path_loss(*hub.from, at);
  if (hub.at < at) {  // from device to hub, the distance first all the same
    const auto passed = link.loss.items.begin() + static_cast<std::ptrdiff_t>(link.loss.head);
    std::reverse(passed, link.loss.items.end());
  }
  RadioEnd radio = in_noise(radio_end(site.profiles.at(device.profile), device), site.radio);
  radio = towards(on_mount(radio, device.mount, site.radio.frequency_hz), at, hub.at);
  const RadioEnd hub_radio = towards(hub.radio, hub.at, at);
  const auto ways = both_ways(radio, hub_radio, link.loss.path_loss_db, site.reading);
  if (!ways) throw DomainError("device '" + device.name + "' and hub '" + hub.name + "' cannot talk");
  link.uplink = ways->uplink;
  link.downlink = ways->downlink;
  link.weaker_is_downlink = ways->weaker_is_downlink;
  link.weak = link.weaker().deaf() || link.lower().reading_percent < site.reading.weak_below_percent;
  add_chances(site, reliability, link);
  return link;
}

}  // namespace linkmargin
