#include "linkmargin/analysis/link_table.hpp"

#include "linkmargin/analysis/link_cautions.hpp"
#include "linkmargin/analysis/parallel.hpp"
#include "linkmargin/analysis/serving.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

/// The links of one device: the serving one alone, or one for each hub.
std::vector<Link> links_of(const Site& site, const Device& device, const std::vector<HubVantage>& hubs,
                           const Reliability& reliability, bool all_pairs) {
  const Link serving = serving_link(site, device, hubs, reliability);
  if (!all_pairs) return {serving};
  std::vector<Link> links;
  for (const HubVantage& hub : candidates(hubs, {})) {
    links.push_back(device_link(site, device, hub, reliability));
    links.back().serving = hub.name == serving.hub;
  }
  return links;
}

std::vector<HubLoad> loads(const Site& site, const LinkTable& table) {
  std::vector<HubLoad> result;
  for (const Hub& hub : site.hubs) {
    std::vector<Tenant> tenants;
    for (const Link& link : table.links) {
      if (!link.serving || link.hub != hub.name) continue;
      const auto device = std::find_if(site.devices.begin(), site.devices.end(),
                                       [&](const Device& d) { return d.name == link.device; });
      tenants.push_back({site.profiles.at(device->profile).device_class, device->slots});
    }
    for (std::size_t i = 0; i < site.areas.size(); ++i) {
      const Area& area = site.areas[i];
      if (table.areas[i].hub != hub.name) continue;
      tenants.push_back({site.profiles.at(area.profile).device_class, area.slots});
    }
    result.push_back(hub_load(hub, tenants));
  }
  return result;
}

}  // namespace

LinkTable link_table(const Site& site, const LinkTableOptions& options) {
  const Scene scene(site, options.doors);
  const std::vector<HubVantage> hubs = hub_vantages(site, scene, options.nearby);
  const Reliability reliability(site.fading);
  LinkTable table{.site = site.name,
                  .frequency_hz = site.radio.frequency_hz,
                  .doors = options.doors,
                  .model = site.radio.model,
                  .reading = site.reading,
                  .links = {},
                  .areas = {},
                  .hubs = {},
                  .weak_devices = {},
                  .cautions = {},
                  .nearby_readings = options.nearby.count()};
  std::vector<std::vector<Link>> links(site.devices.size());
  parallel_for(site.devices.size(), options.threads, [&](std::size_t i) {
    links[i] = links_of(site, site.devices[i], hubs, reliability, options.all_pairs);
  });
  for (const auto& of_device : links) {
    for (const Link& link : of_device) {
      table.links.push_back(link);
      if (link.serving && link.weak) table.weak_devices.push_back(link.device);
    }
  }
  table.areas.resize(site.areas.size());
  for (std::size_t i = 0; i < site.areas.size(); ++i) {
    const Area& area = site.areas[i];
    table.areas[i] =
        area_cover(site, area, candidates(hubs, area.hub), reliability, options.area_step_m, options.threads);
  }
  table.hubs = loads(site, table);
  table.cautions = table_cautions(site, scene, table);
  return table;
}

}  // namespace linkmargin
