#pragma once

#include "linkmargin/prediction/serving/device_link.hpp"

#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace linkmargin {

/// A repeater at its place: to what is enrolled at it a hub, with a link of its own to go on by.
struct RepeaterEndpoint {
  HubEndpoint hears;
  std::shared_ptr<const Link> onward;  ///< never null
  RepeaterServes serves = RepeaterServes::all;
  std::optional<Capacity> capacity{};
};

/// What may serve the devices of a site.
struct Stations {
  std::vector<HubEndpoint> hubs;  ///< in the order of the site
  std::vector<RepeaterEndpoint>
      repeaters{};  ///< in the order of the site; those without a way to a hub are left out

  /// The hub or repeater of that name; null where there is none.
  const HubEndpoint* find(const std::string& name) const;
};

/// A hub of a site, or one like it at another place. @param scene,nearby of the site
HubEndpoint hub_endpoint(const Site& site, const Scene& scene, const Hub& hub,
                         const ShadowingRegression& nearby = {});

/// Chances and K of a link alone, without what else FadingModel adds (add_chances()): ways are compared by
/// it.
void add_chance(const Site& site, const FadingModel& fading_model, Link& link);

/// A repeater as what is enrolled at it sees it, slots apart (SlotBook).
Hub as_hub(const Repeater& repeater);

/// A repeater as what it is enrolled at itself sees it.
Device as_device(const Repeater& repeater);

/// All hubs and repeaters of a site. Each repeater has one way: the one that is named, else the best within
/// Site::hops, found from the hubs outwards (a repeater goes by another only where that has its way already,
/// so that no two go by each other).
/// @param site sound; @param scene,nearby of the site
Stations stations(const Site& site, const Scene& scene, const FadingModel& fading_model,
                  const ShadowingRegression& nearby = {});

/// The same, with what was traced before. @param scene fits the site
Stations stations(const Site& site, SceneCache& scene, const FadingModel& fading_model,
                  const ShadowingRegression& nearby = {});

/// The same of hubs and repeaters that may stand elsewhere than on the site, ways of repeaters found anew.
/// @param hubs,hears  end points of the site's hubs and repeaters in their order
Stations stations(const Site& site, const FadingModel& fading_model, std::vector<HubEndpoint> hubs,
                  std::span<const Repeater> repeaters, std::vector<HubEndpoint> hears);

/// The site as it is without its repeaters, and what is enrolled at them with the best hub.
Site without_repeaters(Site site);

/// Those hubs that may serve: the named one, or all that receive.
/// @throws DomainError when there is none: the site is not sound
std::vector<HubEndpoint> candidates(std::span<const HubEndpoint> hubs,
                                    const std::optional<std::string>& named);

/// Every way that a device may go, those by the hubs first. Slots are not looked at, only whether a repeater
/// has any for its class. With chances where there is more than one kind of way.
std::vector<Link> ways(const Site& site, const Device& device, const Stations& stations,
                       const FadingModel& fading_model);

/// The device by its best way: enrolled as it says; else with the hub that has the most margin, the first of
/// equals; or by the repeater by which its chance is greater than with that hub (by half a thousandth or
/// more).
Link serving_link(const Site& site, const Device& device, const Stations& stations,
                  const FadingModel& fading_model);

/// The same without what FadingModel adds.
Link predicted_serving_link(const Site& site, const Device& device, const Stations& stations,
                            const FadingModel& fading_model);

/// A device's link with a hub or repeater, as though that were the hub (predicted_link(), or what is known of
/// it already).
using HopCall = std::function<Link(const HubEndpoint&)>;

/// The same as predicted_serving_link(), hops asked for by a call.
Link predicted_serving_link(const Site& site, const Device& device, const Stations& stations,
                            const FadingModel& fading_model, const HopCall& hop);

/// A device at a repeater: its own hop (predicted_link()), and how that goes on.
Link link_by(const Site& site, Link own_hop, const RepeaterEndpoint& repeater,
             const FadingModel& fading_model);

/// Whether one way is better than another: by chance to a thousandth, then fewer repeaters, then margin.
bool is_better_way(const Link& way, const Link& than);

}  // namespace linkmargin
