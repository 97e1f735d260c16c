#include "linkmargin/prediction/serving/device_link.hpp"

#include "linkmargin/base/sure_probability.hpp"
#include "linkmargin/link/radio/metal_mount.hpp"
#include "linkmargin/prediction/serving/hop_chance.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

/// What a receiver shows at a level.
double shown_percent(const ReadingScale& scale, const LinkBudget& way, Dbm level) {
  const bool heard = level >= way.level - way.margin;
  return heard ? reading_percent(scale, level) : 0;
}

/// That one hop reaches the threshold: the direction with less.
double hop_probability(const Site& site, const Link& link, const FadingModel& fading_model,
                       const LocalMean& mean) {
  const auto over = [&](const LinkBudget& way) { return way.level - needed_level(site.reading, way); };
  Db least = over(link.uplink);
  if (link.downlink) least = std::min(least, over(*link.downlink));
  return fading_model.chance(Dbm{0} + least + Db{mean.shift_db}, Dbm{0}, mean.sigma_db,
                             fading_model.k_db(link.loss));
}

/// Where one hop is so sure, the other's chance times its own is theirs within so much, however alike they
/// are.
constexpr double kNearlySure = 1e-4;

/// That every hop does: each with the next, given what is known of the one between them.
double way_probability(const Site& site, const Link& link, const FadingModel& fading_model,
                       const LocalMean& mean, double own) {
  if (!link.onward) return own;
  const Link& next = *link.onward;
  if (own <= 0 || next.own_probability <= 0) return 0;
  const auto first = [&](double shift_db, double sigma_db) {
    return hop_probability(site, link, fading_model, {mean.shift_db + shift_db, sigma_db});
  };
  const auto second = [&](double shift_db, double sigma_db) {
    return hop_probability(site, next, fading_model, {shift_db, sigma_db});
  };
  const double surer = std::max(own, next.own_probability);
  const double both =
      std::abs(link.onward_correlation) < kLeastHopCorrelation || 1 - surer < kNearlySure
          ? own * next.own_probability
          : joint_chance(link.onward_correlation, {first, mean.sigma_db}, {second, next.sigma_db});
  return std::min(both, own) * next.pass_probability / next.own_probability;
}

}  // namespace

const Link& Link::weakest_hop() const {
  const Link* weakest = this;
  for (const Link* hop = onward.get(); hop != nullptr; hop = hop->onward.get()) {
    if (hop->own_probability < weakest->own_probability) weakest = hop;
  }
  return *weakest;
}

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
  link.from = at;
  link.to = hub.at;
  link.loss = hub.path_loss(at);
  if (hub.at < at) {  // from device to hub, the distance first all the same
    const auto passed = link.loss.items.begin() + static_cast<std::ptrdiff_t>(link.loss.leading_terms);
    std::reverse(passed, link.loss.items.end());
    std::ranges::reverse(link.loss.turns);
  }
  const RadioEnd radio = towards(device_radio(site, device), at, hub.at);
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
  link.own_hop_weak =
      link.weaker().below_sensitivity() || link.lower().reading_percent < site.reading.weak_below_percent;
  link.weak = link.own_hop_weak;
  link.lacks_reserve = link.weaker().margin < Db{site.profiles.at(device.profile).reserve_db};
  return link;
}

void add_chances(const Site& site, const FadingModel& fading_model, Link& link) {
  const ExpectedReading expected = expected_reading(site, link, fading_model, {0, link.sigma_db});
  link.own_probability = expected.own_probability;
  link.pass_probability = expected.pass_probability;
  link.low_percent = expected.low_percent;
  link.high_percent = expected.high_percent;
  link.k_db = fading_model.k_db(link.loss);
  link.outage = fading_model.outage(link.weaker().margin);
  const bool doubtful = link.pass_probability < kSureProbability || link.lacks_reserve;
  link.outcome = link.weak ? Outcome::weak : doubtful ? Outcome::doubtful : Outcome::good;
}

Link device_link(const Site& site, const Device& device, const HubEndpoint& hub,
                 const FadingModel& fading_model) {
  Link link = predicted_link(site, device, hub);
  add_chances(site, fading_model, link);
  return link;
}

PassSummary pass_summary(const Site& site, const Link& link, const FadingModel& fading_model,
                         const LocalMean& mean) {
  const auto percent_of = [&](const LinkBudget& way) {
    return shown_percent(site.reading, way, way.level + Db{mean.shift_db});
  };
  const double weak_below = site.reading.weak_below_percent;
  PassSummary found{.percent = percent_of(link.weaker())};
  found.weak = percent_of(link.uplink) < weak_below ||
               (link.downlink && percent_of(*link.downlink) < weak_below) ||
               (link.onward && link.onward->weak);
  found.own_probability = hop_probability(site, link, fading_model, mean);
  found.pass_probability = way_probability(site, link, fading_model, mean, found.own_probability);
  return found;
}

ExpectedReading expected_reading(const Site& site, const Link& link, const FadingModel& fading_model,
                                 const LocalMean& mean) {
  const LinkBudget& way = link.weaker();
  const LevelInterval levels = fading_model.interval(way.level + Db{mean.shift_db}, kIntervalChance,
                                                     mean.sigma_db, fading_model.k_db(link.loss));
  return {pass_summary(site, link, fading_model, mean), shown_percent(site.reading, way, levels.low),
          shown_percent(site.reading, way, levels.high)};
}

}  // namespace linkmargin
