#include "linkmargin/analysis/link_table.hpp"

#include "linkmargin/analysis/link_cautions.hpp"
#include "linkmargin/analysis/parallel.hpp"
#include "linkmargin/analysis/serving.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

/// What Reliability adds, or of it what a table in short has.
void add_chances(const Site& site, const Reliability& reliability, bool in_short, Link& link) {
  if (!in_short) return linkmargin::add_chances(site, reliability, link);
  link.pass_probability = outlook(site, link, reliability, {0, link.sigma_db}).pass_probability;
  link.k_db = reliability.k_db(link.loss.in_sight);
}

/// The links of one device: the serving one alone, or one for each hub.
std::vector<Link> links_of(const Site& site, const Device& device, const std::vector<HubVantage>& hubs,
                           const Reliability& reliability, const LinkTableOptions& options) {
  std::vector<Link> links{predicted_serving_link(site, device, hubs)};
  if (options.all_pairs) {
    const std::string serving = links.front().hub;
    links.clear();
    for (const HubVantage& hub : candidates(hubs, {})) {
      links.push_back(predicted_link(site, device, hub));
      links.back().serving = hub.name == serving;
    }
  }
  for (Link& link : links) add_chances(site, reliability, options.in_short, link);
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

LinkTable link_table(const Site& site, const LinkTableOptions& options, const Scene& scene,
                     const std::vector<HubVantage>& hubs, const Reliability& reliability) {
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
    links[i] = links_of(site, site.devices[i], hubs, reliability, options);
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
  if (!options.in_short) table.cautions = table_cautions(site, scene, table);
  return table;
}

}  // namespace

LinkTable link_table(const Site& site, const LinkTableOptions& options) {
  const Scene scene(site, options.doors);
  return link_table(site, options, scene, hub_vantages(site, scene, options.nearby), Reliability(site.fading));
}

LinkTable link_table(const Site& site, const LinkTableOptions& options, SceneStore& scenes) {
  if (options.threads > 1) throw DomainError("a store of scenes serves one thread at a time");
  const auto traced = scenes.scene(site, options.doors);
  return link_table(site, options, *traced->scene(), hub_vantages(site, *traced, options.nearby),
                    scenes.reliability(site.fading));
}

}  // namespace linkmargin
