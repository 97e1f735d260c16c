#pragma once

#include "linkmargin/analysis/device_link.hpp"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace linkmargin {

/// A hub of a site, or one like it at another place. @param scene,nearby of the site
HubVantage hub_vantage(const Site& site, const Scene& scene, const Hub& hub,
                       const NearbyReadings& nearby = {});

/// All hubs of a site, in its order. @param site sound; @param scene,nearby of the site
std::vector<HubVantage> hub_vantages(const Site& site, const Scene& scene, const NearbyReadings& nearby = {});

/// The same, with what was traced before. @param scene fits the site
std::vector<HubVantage> hub_vantages(const Site& site, TracedScene& scene, const NearbyReadings& nearby = {});

/// Those that may serve: the named one, or all that receive.
/// @throws DomainError when there is none: the site is not sound
std::vector<HubVantage> candidates(std::span<const HubVantage> hubs, const std::optional<std::string>& named);

/// The device with the hub that serves it: of those that may, the one with the most margin, the first of
/// equals.
Link serving_link(const Site& site, const Device& device, std::span<const HubVantage> hubs,
                  const Reliability& reliability);

/// The same without what Reliability adds.
Link predicted_serving_link(const Site& site, const Device& device, std::span<const HubVantage> hubs);

}  // namespace linkmargin
