#include "linkmargin/prediction/serving/serving.hpp"

#include "linkmargin/base/range.hpp"
#include "linkmargin/prediction/serving/hop_chance.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <tuple>
#include <utility>

namespace linkmargin {
namespace {

HubEndpoint hub_endpoint(const Site& site, const Scene& scene, const Hub& hub,
                         std::shared_ptr<const ParameterSpread> spread, const ShadowingRegression& nearby) {
  const HubRadio end = hub_radio(site, hub);
  return {end, std::make_shared<const LinkEndpoint>(scene, end.at), std::move(spread), nearby};
}

HubEndpoint hub_endpoint(const Site& site, SceneCache& scene, const Hub& hub,
                         std::shared_ptr<const ParameterSpread> spread, const ShadowingRegression& nearby) {
  const HubRadio end = hub_radio(site, hub);
  const auto traced = scene.end(end.at);
  return {end, traced->from(), std::move(spread), nearby, traced};
}

Link best_by_margin(const Device& device, std::span<const HubEndpoint> hubs, const HopCall& hop) {
  std::optional<Link> best;
  for (const HubEndpoint& hub : candidates(hubs, device.hub)) {
    Link link = hop(hub);
    if (!best || link.weaker().margin > best->weaker().margin) best = std::move(link);
  }
  return std::move(*best);
}

/// Whether a device may be enrolled at a repeater, slots apart.
bool may_go_by(const Site& site, const Device& device, const RepeaterEndpoint& repeater) {
  return repeater.serves != RepeaterServes::areas && (!device.hub || repeater.onward->hub == *device.hub) &&
         (!device.via || *device.via == repeater.hears.name) && repeater.hears.radio.sensitivity &&
         (!repeater.capacity || repeater.capacity->serves(site.profiles.at(device.profile).device_class));
}

bool may_go_directly(const Device& device) {
  return !device.via || *device.via == kDirect;
}

/// A repeater that does not say its hub has that of what is enrolled at it by name.
Device enrolled_device(const Site& site, const Repeater& repeater) {
  Device device = as_device(repeater);
  for (const Device& tenant : site.devices) {
    if (!device.hub && tenant.via == repeater.name) device.hub = tenant.hub;
  }
  return device;
}

/// Gives every repeater its way, from the hubs outwards.
class WayFinder {
 public:
  WayFinder(const Site& site, const FadingModel& fading_model, std::span<const Repeater> repeaters,
            std::vector<HubEndpoint> hears, Stations& found)
      : site_(site),
        fading_model_(fading_model),
        repeaters_(repeaters),
        hears_(std::move(hears)),
        found_(found) {}

  void run() {
    std::vector<std::optional<Link>> best(repeaters_.size());
    std::vector<bool> settled(repeaters_.size());
    for (std::size_t i = 0; i < repeaters_.size(); ++i) {
      const Device device = enrolled_device(site_, repeaters_[i]);
      if (site_.hops < 1 || !may_go_directly(device)) continue;
      best[i] = best_by_margin(device, found_.hubs,
                               [&](const HubEndpoint& hub) { return predicted_link(site_, device, hub); });
      add_chance(site_, fading_model_, *best[i]);
    }
    for (;;) {
      std::optional<std::size_t> next;
      for (std::size_t i = 0; i < best.size(); ++i) {
        if (settled[i] || !best[i]) continue;
        if (!next || is_better_way(*best[i], *best[*next])) next = i;
      }
      if (!next) break;
      settled[*next] = true;
      settle(*next, std::move(*best[*next]), settled, best);
    }
    std::ranges::sort(found_.repeaters, {}, [&](const RepeaterEndpoint& one) {
      return std::ranges::find(repeaters_, one.hears.name, &Repeater::name) - repeaters_.begin();
    });
  }

 private:
  void settle(std::size_t i, Link own, const std::vector<bool>& settled,
              std::vector<std::optional<Link>>& best) {
    const Repeater& repeater = repeaters_[i];
    found_.repeaters.push_back(
        {hears_[i], std::make_shared<const Link>(std::move(own)), repeater.serves, repeater.capacity});
    const RepeaterEndpoint& station = found_.repeaters.back();
    if (static_cast<int>(station.onward->via.size()) + 2 > site_.hops) return;
    for (std::size_t other = 0; other < repeaters_.size(); ++other) {
      if (settled[other]) continue;
      const Device device = enrolled_device(site_, repeaters_[other]);
      if (!may_go_by(site_, device, station)) continue;
      Link link = link_by(site_, predicted_link(site_, device, station.hears), station, fading_model_);
      if (!best[other] || is_better_way(link, *best[other])) best[other] = std::move(link);
    }
  }

  const Site& site_;
  const FadingModel& fading_model_;
  std::span<const Repeater> repeaters_;
  std::vector<HubEndpoint> hears_;
  Stations& found_;
};

template <typename AnyScene>
Stations made_stations(const Site& site, AnyScene& scene, const FadingModel& fading_model,
                       const ShadowingRegression& nearby) {
  const auto spread = std::make_shared<const ParameterSpread>(site);
  std::vector<HubEndpoint> hubs;
  for (const Hub& hub : site.hubs) hubs.push_back(hub_endpoint(site, scene, hub, spread, nearby));
  std::vector<HubEndpoint> hears;
  for (const Repeater& repeater : site.repeaters)
    hears.push_back(hub_endpoint(site, scene, as_hub(repeater), spread, nearby));
  return stations(site, fading_model, std::move(hubs), site.repeaters, std::move(hears));
}

}  // namespace

const HubEndpoint* Stations::find(const std::string& name) const {
  const auto hub = std::ranges::find(hubs, name, &HubEndpoint::name);
  if (hub != hubs.end()) return &*hub;
  const auto repeater =
      std::ranges::find_if(repeaters, [&](const RepeaterEndpoint& one) { return one.hears.name == name; });
  return repeater == repeaters.end() ? nullptr : &repeater->hears;
}

HubEndpoint hub_endpoint(const Site& site, const Scene& scene, const Hub& hub,
                         const ShadowingRegression& nearby) {
  return hub_endpoint(site, scene, hub, std::make_shared<const ParameterSpread>(site), nearby);
}

void add_chance(const Site& site, const FadingModel& fading_model, Link& link) {
  const PassSummary summary = pass_summary(site, link, fading_model, {0, link.sigma_db});
  link.own_probability = summary.own_probability;
  link.pass_probability = summary.pass_probability;
  link.k_db = fading_model.k_db(link.loss);
}

Hub as_hub(const Repeater& repeater) {
  return {.name = repeater.name,
          .profile = repeater.profile,
          .place = repeater.place,
          .capacity = repeater.capacity,
          .may_move = repeater.may_move,
          .cable_m = repeater.cable_m,
          .mount = repeater.mount,
          .fixed = repeater.fixed};
}

Device as_device(const Repeater& repeater) {
  Device device{.name = repeater.name, .profile = repeater.profile, .place = repeater.place};
  device.hub = repeater.hub;
  device.via = repeater.via;
  device.mount = repeater.mount;
  return device;
}

Stations stations(const Site& site, const Scene& scene, const FadingModel& fading_model,
                  const ShadowingRegression& nearby) {
  return made_stations(site, scene, fading_model, nearby);
}

Stations stations(const Site& site, SceneCache& scene, const FadingModel& fading_model,
                  const ShadowingRegression& nearby) {
  return made_stations(site, scene, fading_model, nearby);
}

Stations stations(const Site& site, const FadingModel& fading_model, std::vector<HubEndpoint> hubs,
                  std::span<const Repeater> repeaters, std::vector<HubEndpoint> hears) {
  Stations found{std::move(hubs), {}};
  WayFinder(site, fading_model, repeaters, std::move(hears), found).run();
  return found;
}

Site without_repeaters(Site site) {
  site.repeaters.clear();
  for (Device& device : site.devices) device.via.reset();
  return site;
}

std::vector<HubEndpoint> candidates(std::span<const HubEndpoint> hubs,
                                    const std::optional<std::string>& named) {
  std::vector<HubEndpoint> chosen;
  for (const HubEndpoint& hub : hubs) {
    if (hub.radio.sensitivity && (!named || hub.name == *named)) chosen.push_back(hub);
  }
  if (chosen.empty()) throw DomainError("no hub can serve: the site is not sound");
  return chosen;
}

Link link_by(const Site& site, Link link, const RepeaterEndpoint& repeater, const FadingModel& fading_model) {
  const Link& next = *repeater.onward;
  link.hub = next.hub;
  link.via = {repeater.hears.name};
  link.via.insert(link.via.end(), next.via.begin(), next.via.end());
  link.onward = repeater.onward;
  link.weak = link.own_hop_weak || next.weak;
  const auto ends = [&](const Link& hop) {
    return HopEnds{hop.from, hop.to, hop.loss, reading_percent(site.reading, hop.weaker().level) / 100};
  };
  static const ParameterSpread none{Site{}};
  link.onward_correlation =
      hop_correlation(repeater.hears.spread ? *repeater.hears.spread : none, ends(link), ends(next));
  add_chance(site, fading_model, link);
  return link;
}

bool is_better_way(const Link& way, const Link& than) {
  const auto rank = [](const Link& link) {
    return std::tuple(std::lround(1000 * link.pass_probability), -static_cast<long>(link.via.size()),
                      link.weaker().margin.value);
  };
  return rank(way) > rank(than);
}

std::vector<Link> ways(const Site& site, const Device& device, const Stations& stations,
                       const FadingModel& fading_model) {
  std::vector<Link> found;
  if (may_go_directly(device)) {
    for (const HubEndpoint& hub : candidates(stations.hubs, device.hub))
      found.push_back(predicted_link(site, device, hub));
  }
  for (const RepeaterEndpoint& repeater : stations.repeaters) {
    if (may_go_by(site, device, repeater))
      found.push_back(link_by(site, predicted_link(site, device, repeater.hears), repeater, fading_model));
  }
  for (Link& link : found) {
    if (!link.onward) add_chance(site, fading_model, link);
  }
  return found;
}

Link predicted_serving_link(const Site& site, const Device& device, const Stations& stations,
                            const FadingModel& fading_model) {
  return predicted_serving_link(site, device, stations, fading_model, [&](const HubEndpoint& station) {
    return predicted_link(site, device, station);
  });
}

Link predicted_serving_link(const Site& site, const Device& device, const Stations& stations,
                            const FadingModel& fading_model, const HopCall& hop) {
  std::optional<Link> best;
  if (may_go_directly(device)) best = best_by_margin(device, stations.hubs, hop);
  if (best && !stations.repeaters.empty()) add_chance(site, fading_model, *best);
  // A way has no more chance than any of its hops, and of equal ways the direct one is better.
  const auto cannot_win = [&](double most) {
    return best && !best->onward && std::lround(1000 * most) <= std::lround(1000 * best->pass_probability);
  };
  for (const RepeaterEndpoint& repeater : stations.repeaters) {
    if (!may_go_by(site, device, repeater) || cannot_win(repeater.onward->pass_probability)) continue;
    Link own_hop = hop(repeater.hears);
    if (best) add_chance(site, fading_model, own_hop);
    if (best && cannot_win(own_hop.own_probability)) continue;
    Link link = link_by(site, std::move(own_hop), repeater, fading_model);
    if (!best || is_better_way(link, *best)) best = std::move(link);
  }
  if (!best) throw DomainError("nothing can serve '" + device.name + "': the site is not sound");
  return std::move(*best);
}

Link serving_link(const Site& site, const Device& device, const Stations& stations,
                  const FadingModel& fading_model) {
  Link link = predicted_serving_link(site, device, stations, fading_model);
  add_chances(site, fading_model, link);
  return link;
}

}  // namespace linkmargin
