#include "linkmargin/prediction/device_link.hpp"

#include "linkmargin/link/mechanism/metal_mount.hpp"
#include "linkmargin/link/mechanism/noise_rise.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

/// What a receiver shows at a level.
double shown_percent(const ReadingScale& scale, const LinkBudget& way, Dbm level) {
  const bool heard = level >= way.level - way.margin;
  return heard ? reading_percent(scale, level) : 0;
}

}  // namespace

const LinkBudget& Link::lower() const {
  if (!downlink || downlink->reading_percent == uplink.reading_percent) return weaker();
  return downlink->reading_percent < uplink.reading_percent ? *downlink : uplink;
}

Db Link::shortfall(const ReadingScale& scale) const {
  const auto missing = [&](const LinkBudget& way) { return needed_level(scale, way) - way.level; };
  return downlink ? std::max(missing(uplink), missing(*downlink)) : missing(uplink);
}

Link predicted_link(const Site& site, const Device& device, const HubEndpoint& hub) {
  Link link;
  link.device = device.name;
  link.hub = hub.name;
  const Point3 at = site.point(device.place);
  link.loss = hub.path_loss(at);
  if (hub.at < at) {  // from device to hub, the distance first all the same
    const auto passed = link.loss.items.begin() + static_cast<std::ptrdiff_t>(link.loss.leading_terms);
    std::reverse(passed, link.loss.items.end());
    std::ranges::reverse(link.loss.turns);
  }
  RadioEnd radio = in_noise(radio_end(site.profiles.at(device.profile), device), site.radio);
  radio = towards(on_mount(radio, device.mount, site.radio.frequency_hz), at, hub.at);
  const RadioEnd hub_radio = towards(hub.radio, hub.at, at);
  const auto ways = two_way_budget(radio, hub_radio, link.loss.path_loss_db, site.reading);
  if (!ways) throw DomainError("device '" + device.name + "' and hub '" + hub.name + "' cannot talk");
  link.uplink = ways->uplink;
  link.downlink = ways->downlink;
  link.weaker_is_downlink = ways->weaker_is_downlink;
  const LocalMean mean = hub.local_mean(at, link.loss, link.weaker().level);
  link.sigma_db = mean.sigma_db;
  if (!hub.nearby.empty()) {
    link.nearby_shift_db = mean.shift_db;
    shift(link.uplink, BudgetTerm::nearby_readings, mean.shift_db, site.reading);
    if (link.downlink) shift(*link.downlink, BudgetTerm::nearby_readings, mean.shift_db, site.reading);
  }
  link.weak =
      link.weaker().below_sensitivity() || link.lower().reading_percent < site.reading.weak_below_percent;
  return link;
}

void add_chances(const Site& site, const FadingModel& fading_model, Link& link) {
  const ExpectedReading expected = expected_reading(site, link, fading_model, {0, link.sigma_db});
  link.pass_probability = expected.pass_probability;
  link.low_percent = expected.low_percent;
  link.high_percent = expected.high_percent;
  link.k_db = fading_model.k_db(link.loss.line_of_sight);
  link.outage = fading_model.outage(link.weaker().margin);
}

Link device_link(const Site& site, const Device& device, const HubEndpoint& hub,
                 const FadingModel& fading_model) {
  Link link = predicted_link(site, device, hub);
  add_chances(site, fading_model, link);
  return link;
}

PassSummary pass_summary(const Site& site, const Link& link, const FadingModel& fading_model,
                         const LocalMean& mean) {
  const auto of = [&](const LinkBudget& way) {
    const Dbm level = way.level + Db{mean.shift_db};
    const double percent = shown_percent(site.reading, way, level);
    const double chance =
        fading_model.chance(level, needed_level(site.reading, way), mean.sigma_db, link.loss.line_of_sight);
    return PassSummary{percent, percent < site.reading.weak_below_percent, chance};
  };
  const PassSummary up = of(link.uplink);
  if (!link.downlink) return up;
  const PassSummary down = of(*link.downlink);
  PassSummary found = link.weaker_is_downlink ? down : up;
  found.weak = up.weak || down.weak;
  found.pass_probability = std::min(up.pass_probability, down.pass_probability);
  return found;
}

ExpectedReading expected_reading(const Site& site, const Link& link, const FadingModel& fading_model,
                                 const LocalMean& mean) {
  const LinkBudget& way = link.weaker();
  const LevelInterval levels = fading_model.interval(way.level + Db{mean.shift_db}, kIntervalChance,
                                                     mean.sigma_db, link.loss.line_of_sight);
  return {pass_summary(site, link, fading_model, mean), shown_percent(site.reading, way, levels.low),
          shown_percent(site.reading, way, levels.high)};
}

}  // namespace linkmargin
