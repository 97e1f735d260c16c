#include "linkmargin/analysis/serving.hpp"

#include <memory>
#include <utility>

namespace linkmargin {

namespace {

HubVantage hub_vantage(const Site& site, const Scene& scene, const Hub& hub,
                       std::shared_ptr<const ParameterSpread> spread, const NearbyReadings& nearby) {
  const HubEnd end = hub_end(site, hub);
  return {end, std::make_shared<const Vantage>(scene, end.at), std::move(spread), nearby};
}

}  // namespace

HubVantage hub_vantage(const Site& site, const Scene& scene, const Hub& hub, const NearbyReadings& nearby) {
  return hub_vantage(site, scene, hub, std::make_shared<const ParameterSpread>(site), nearby);
}

std::vector<HubVantage> hub_vantages(const Site& site, const Scene& scene, const NearbyReadings& nearby) {
  std::vector<HubVantage> hubs;
  const auto spread = std::make_shared<const ParameterSpread>(site);
  for (const Hub& hub : site.hubs) hubs.push_back(hub_vantage(site, scene, hub, spread, nearby));
  return hubs;
}

std::vector<HubVantage> hub_vantages(const Site& site, TracedScene& scene, const NearbyReadings& nearby) {
  std::vector<HubVantage> hubs;
  const auto spread = std::make_shared<const ParameterSpread>(site);
  for (const Hub& hub : site.hubs) {
    const HubEnd end = hub_end(site, hub);
    const auto traced = scene.end(end.at);
    hubs.push_back({end, traced->from(), spread, nearby, traced});
  }
  return hubs;
}

std::vector<HubVantage> candidates(std::span<const HubVantage> hubs,
                                   const std::optional<std::string>& named) {
  std::vector<HubVantage> chosen;
  for (const HubVantage& hub : hubs) {
    if (hub.radio.sensitivity && (!named || hub.name == *named)) chosen.push_back(hub);
  }
  if (chosen.empty()) throw DomainError("no hub can serve: the site is not sound");
  return chosen;
}

Link serving_link(const Site& site, const Device& device, std::span<const HubVantage> hubs,
                  const Reliability& reliability) {
  Link link = predicted_serving_link(site, device, hubs);
  add_chances(site, reliability, link);
  return link;
}

Link predicted_serving_link(const Site& site, const Device& device, std::span<const HubVantage> hubs) {
  std::optional<Link> serving;
  for (const HubVantage& hub : candidates(hubs, device.hub)) {
    Link link = predicted_link(site, device, hub);
    if (!serving || link.weaker().margin > serving->weaker().margin) serving = std::move(link);
  }
  return *serving;
}

}  // namespace linkmargin
