#include "linkmargin/prediction/link_table.hpp"

#include "linkmargin/base/parallel.hpp"
#include "linkmargin/prediction/link_warnings.hpp"
#include "linkmargin/prediction/serving.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

/// What FadingModel adds, or of it what a table in short has.
void add_chances(const Site& site, const FadingModel& fading_model, bool in_short, Link& link) {
  if (!in_short) return linkmargin::add_chances(site, fading_model, link);
  link.pass_probability = pass_summary(site, link, fading_model, {0, link.sigma_db}).pass_probability;
  link.k_db = fading_model.k_db(link.loss.line_of_sight);
}

/// The links of one device: the serving one alone, or one for each hub.
std::vector<Link> links_of(const Site& site, const Device& device, const std::vector<HubEndpoint>& hubs,
                           const FadingModel& fading_model, const LinkTableOptions& options) {
  std::vector<Link> links{predicted_serving_link(site, device, hubs)};
  if (options.all_pairs) {
    const std::string serving = links.front().hub;
    links.clear();
    for (const HubEndpoint& hub : candidates(hubs, {})) {
      links.push_back(predicted_link(site, device, hub));
      links.back().serving = hub.name == serving;
    }
  }
  for (Link& link : links) add_chances(site, fading_model, options.in_short, link);
  return links;
}

std::vector<HubLoad> loads(const Site& site, const LinkTable& table) {
  std::vector<HubLoad> result;
  for (const Hub& hub : site.hubs) {
    std::vector<SlotUser> tenants;
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
                     const std::vector<HubEndpoint>& hubs, const FadingModel& fading_model) {
  LinkTable table{.site = site.name,
                  .frequency_hz = site.radio.frequency_hz,
                  .doors = options.doors,
                  .model = site.radio.model,
                  .reading = site.reading,
                  .links = {},
                  .areas = {},
                  .hubs = {},
                  .weak_devices = {},
                  .warnings = {},
                  .nearby_readings = options.nearby.count()};
  std::vector<std::vector<Link>> links(site.devices.size());
  parallel_for(site.devices.size(), options.threads, [&](std::size_t i) {
    links[i] = links_of(site, site.devices[i], hubs, fading_model, options);
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
    table.areas[i] = area_cover(site, area, candidates(hubs, area.hub), fading_model, options.area_step_m,
                                options.threads);
  }
  table.hubs = loads(site, table);
  if (!options.in_short) table.warnings = table_warnings(site, scene, table);
  return table;
}

}  // namespace

LinkTable link_table(const Site& site, const LinkTableOptions& options) {
  const Scene scene(site, options.doors);
  return link_table(site, options, scene, hub_endpoints(site, scene, options.nearby),
                    FadingModel(site.fading));
}

LinkTable link_table(const Site& site, const LinkTableOptions& options, SceneCacheSet& scenes) {
  if (options.threads > 1) throw DomainError("a store of scenes serves one thread at a time");
  const auto traced = scenes.scene(site, options.doors);
  return link_table(site, options, *traced->scene(), hub_endpoints(site, *traced, options.nearby),
                    scenes.fading_model(site.fading));
}

}  // namespace linkmargin
