#pragma once

#include "linkmargin/prediction/device_link.hpp"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace linkmargin {

/// A hub of a site, or one like it at another place. @param scene,nearby of the site
HubEndpoint hub_endpoint(const Site& site, const Scene& scene, const Hub& hub,
                         const ShadowingRegression& nearby = {});

/// All hubs of a site, in its order. @param site sound; @param scene,nearby of the site
std::vector<HubEndpoint> hub_endpoints(const Site& site, const Scene& scene,
                                       const ShadowingRegression& nearby = {});

/// The same, with what was traced before. @param scene fits the site
std::vector<HubEndpoint> hub_endpoints(const Site& site, SceneCache& scene,
                                       const ShadowingRegression& nearby = {});

/// Those that may serve: the named one, or all that receive.
/// @throws DomainError when there is none: the site is not sound
std::vector<HubEndpoint> candidates(std::span<const HubEndpoint> hubs,
                                    const std::optional<std::string>& named);

/// The device with the hub that serves it: of those that may, the one with the most margin, the first of
/// equals.
Link serving_link(const Site& site, const Device& device, std::span<const HubEndpoint> hubs,
                  const FadingModel& fading_model);

/// The same without what FadingModel adds.
Link predicted_serving_link(const Site& site, const Device& device, std::span<const HubEndpoint> hubs);

}  // namespace linkmargin
