#include "linkmargin/prediction/serving.hpp"

#include <memory>
#include <utility>

namespace linkmargin {

namespace {

HubEndpoint hub_endpoint(const Site& site, const Scene& scene, const Hub& hub,
                         std::shared_ptr<const ParameterSpread> spread, const ShadowingRegression& nearby) {
  const HubRadio end = hub_radio(site, hub);
  return {end, std::make_shared<const LinkEndpoint>(scene, end.at), std::move(spread), nearby};
}

}  // namespace

HubEndpoint hub_endpoint(const Site& site, const Scene& scene, const Hub& hub,
                         const ShadowingRegression& nearby) {
  return hub_endpoint(site, scene, hub, std::make_shared<const ParameterSpread>(site), nearby);
}

std::vector<HubEndpoint> hub_endpoints(const Site& site, const Scene& scene,
                                       const ShadowingRegression& nearby) {
  std::vector<HubEndpoint> hubs;
  const auto spread = std::make_shared<const ParameterSpread>(site);
  for (const Hub& hub : site.hubs) hubs.push_back(hub_endpoint(site, scene, hub, spread, nearby));
  return hubs;
}

std::vector<HubEndpoint> hub_endpoints(const Site& site, SceneCache& scene,
                                       const ShadowingRegression& nearby) {
  std::vector<HubEndpoint> hubs;
  const auto spread = std::make_shared<const ParameterSpread>(site);
  for (const Hub& hub : site.hubs) {
    const HubRadio end = hub_radio(site, hub);
    const auto traced = scene.end(end.at);
    hubs.push_back({end, traced->from(), spread, nearby, traced});
  }
  return hubs;
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

Link serving_link(const Site& site, const Device& device, std::span<const HubEndpoint> hubs,
                  const FadingModel& fading_model) {
  Link link = predicted_serving_link(site, device, hubs);
  add_chances(site, fading_model, link);
  return link;
}

Link predicted_serving_link(const Site& site, const Device& device, std::span<const HubEndpoint> hubs) {
  std::optional<Link> serving;
  for (const HubEndpoint& hub : candidates(hubs, device.hub)) {
    Link link = predicted_link(site, device, hub);
    if (!serving || link.weaker().margin > serving->weaker().margin) serving = std::move(link);
  }
  return *serving;
}

}  // namespace linkmargin
