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

}  // namespace

const Direction& Link::lower() const {
  if (!downlink || downlink->reading_percent == uplink.reading_percent) return weaker();
  return downlink->reading_percent < uplink.reading_percent ? *downlink : uplink;
}

Db Link::shortfall(const ReadingScale& scale) const {
  const auto missing = [&](const Direction& way) { return needed_level(scale, way) - way.level; };
  return downlink ? std::max(missing(uplink), missing(*downlink)) : missing(uplink);
}

Link predicted_link(const Site& site, const Device& device, const HubVantage& hub) {
  Link link;
  link.device = device.name;
  link.hub = hub.name;
  const Point3 at = site.point(device.place);
  link.loss = hub.path_loss(at);
  if (hub.at < at) {  // from device to hub, the distance first all the same
    const auto passed = link.loss.items.begin() + static_cast<std::ptrdiff_t>(link.loss.head);
    std::reverse(passed, link.loss.items.end());
    std::ranges::reverse(link.loss.turns);
  }
  RadioEnd radio = in_noise(radio_end(site.profiles.at(device.profile), device), site.radio);
  radio = towards(on_mount(radio, device.mount, site.radio.frequency_hz), at, hub.at);
  const RadioEnd hub_radio = towards(hub.radio, hub.at, at);
  const auto ways = both_ways(radio, hub_radio, link.loss.path_loss_db, site.reading);
  if (!ways) throw DomainError("device '" + device.name + "' and hub '" + hub.name + "' cannot talk");
  link.uplink = ways->uplink;
  link.downlink = ways->downlink;
  link.weaker_is_downlink = ways->weaker_is_downlink;
  const LocalMean mean = hub.local_mean(at, link.loss, link.weaker().level);
  link.sigma_db = mean.sigma_db;
  if (!hub.nearby.empty()) {
    link.nearby_shift_db = mean.shift_db;
    shift(link.uplink, kNearbyName, mean.shift_db, site.reading);
    if (link.downlink) shift(*link.downlink, kNearbyName, mean.shift_db, site.reading);
  }
  link.weak = link.weaker().deaf() || link.lower().reading_percent < site.reading.weak_below_percent;
  return link;
}

void add_chances(const Site& site, const Reliability& reliability, Link& link) {
  const ExpectedReading expected = expected_reading(site, link, reliability, {0, link.sigma_db});
  link.pass_probability = expected.pass_probability;
  link.low_percent = expected.low_percent;
  link.high_percent = expected.high_percent;
  link.k_db = reliability.k_db(link.loss.in_sight);
  link.outage = reliability.outage(link.weaker().margin);
}

Link device_link(const Site& site, const Device& device, const HubVantage& hub,
                 const Reliability& reliability) {
  Link link = predicted_link(site, device, hub);
  add_chances(site, reliability, link);
  return link;
}

Outlook outlook(const Site& site, const Link& link, const Reliability& reliability, const LocalMean& mean) {
  const auto of = [&](const Direction& way) {
    const Dbm level = way.level + Db{mean.shift_db};
    const double percent = shown_percent(site.reading, way, level);
    const double chance =
        reliability.chance(level, needed_level(site.reading, way), mean.sigma_db, link.loss.in_sight);
    return Outlook{percent, percent < site.reading.weak_below_percent, chance};
  };
  const Outlook up = of(link.uplink);
  if (!link.downlink) return up;
  const Outlook down = of(*link.downlink);
  Outlook found = link.weaker_is_downlink ? down : up;
  found.weak = up.weak || down.weak;
  found.pass_probability = std::min(up.pass_probability, down.pass_probability);
  return found;
}

ExpectedReading expected_reading(const Site& site, const Link& link, const Reliability& reliability,
                                 const LocalMean& mean) {
  const Direction& way = link.weaker();
  const LevelInterval levels =
      reliability.interval(way.level + Db{mean.shift_db}, kIntervalChance, mean.sigma_db, link.loss.in_sight);
  return {outlook(site, link, reliability, mean), shown_percent(site.reading, way, levels.low),
          shown_percent(site.reading, way, levels.high)};
}

}  // namespace linkmargin
