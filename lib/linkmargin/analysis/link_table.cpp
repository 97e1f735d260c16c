#include "linkmargin/analysis/link_table.hpp"

#include "linkmargin/analysis/link_cautions.hpp"
#include "linkmargin/analysis/parallel.hpp"
#include "linkmargin/link/metal_mount.hpp"
#include "linkmargin/link/noise_rise.hpp"
#include "linkmargin/link/reliability.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

std::vector<HubVantage> hub_vantages(const Site& site, const Scene& scene) {
  std::vector<HubVantage> hubs;
  for (const Hub& hub : site.hubs) {
    const HubEnd end = hub_end(site, hub);
    hubs.push_back({end, std::make_shared<const Vantage>(scene, end.at)});
  }
  return hubs;
}

/// The hubs that may serve: the named one, or all.
std::vector<HubVantage> candidates(const std::vector<HubVantage>& hubs,
                                   const std::optional<std::string>& named) {
  std::vector<HubVantage> chosen;
  for (const HubVantage& hub : hubs) {
    if (hub.radio.sensitivity && (!named || hub.name == *named)) chosen.push_back(hub);
  }
  if (chosen.empty()) throw DomainError("no hub can serve: the site is not sound");
  return chosen;
}

Link make_link(const Site& site, const Device& device, const HubVantage& hub) {
  Link link;
  link.device = device.name;
  link.hub = hub.name;
  const Point3 at = site.point(device.place);
  link.loss = path_loss(*hub.from, at);
  if (hub.at < at) {  // from device to hub, the distance first all the same
    const auto passed = link.loss.items.begin() + static_cast<std::ptrdiff_t>(link.loss.head);
    std::reverse(passed, link.loss.items.end());
  }
  RadioEnd radio = in_noise(radio_end(site.profiles.at(device.profile), device), site.radio);
  radio = towards(on_mount(radio, device.mount, site.radio.frequency_hz), at, hub.at);
  const RadioEnd hub_radio = towards(hub.radio, hub.at, at);
  const auto ways = both_ways(radio, hub_radio, link.loss.path_loss_db, site.reading);
  if (!ways) throw DomainError("device '" + device.name + "' does not transmit: the site is not sound");
  link.uplink = ways->uplink;
  link.downlink = ways->downlink;
  link.weaker_is_downlink = ways->weaker_is_downlink;
  link.weak = link.weaker().deaf() || link.lower().reading_percent < site.reading.weak_below_percent;
  const auto chance = [&](const Direction& way) {
    return pass_probability(way.level, needed_level(site.reading, way), link.loss.sigma_db);
  };
  link.pass_probability = chance(link.uplink);
  if (link.downlink) link.pass_probability = std::min(link.pass_probability, chance(*link.downlink));
  return link;
}

/// The links of one device: the serving one alone, or one for each hub.
std::vector<Link> links_of(const Site& site, const Device& device, const std::vector<HubVantage>& hubs,
                           bool all_pairs) {
  const std::vector<HubVantage> may_serve = candidates(hubs, device.hub);
  const std::vector<HubVantage> listed = all_pairs ? candidates(hubs, {}) : may_serve;
  std::vector<Link> links;
  for (const HubVantage& hub : listed) links.push_back(make_link(site, device, hub));
  const Link* serving = nullptr;
  for (const Link& link : links) {
    const bool may = std::any_of(may_serve.begin(), may_serve.end(),
                                 [&](const HubVantage& hub) { return hub.name == link.hub; });
    if (may && (serving == nullptr || link.weaker().margin > serving->weaker().margin)) serving = &link;
  }
  for (Link& link : links) link.serving = &link == serving;
  if (!all_pairs) return {*serving};
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

const Direction& Link::lower() const {
  if (!downlink || downlink->reading_percent == uplink.reading_percent) return weaker();
  return downlink->reading_percent < uplink.reading_percent ? *downlink : uplink;
}

LinkTable link_table(const Site& site, const LinkTableOptions& options) {
  const Scene scene(site, options.doors);
  const std::vector<HubVantage> hubs = hub_vantages(site, scene);
  LinkTable table{.site = site.name,
                  .frequency_hz = site.radio.frequency_hz,
                  .doors = options.doors,
                  .model = site.radio.model,
                  .reading = site.reading,
                  .links = {},
                  .areas = {},
                  .hubs = {},
                  .weak_devices = {},
                  .cautions = {}};
  std::vector<std::vector<Link>> links(site.devices.size());
  parallel_for(site.devices.size(), options.threads,
               [&](std::size_t i) { links[i] = links_of(site, site.devices[i], hubs, options.all_pairs); });
  for (const auto& of_device : links) {
    for (const Link& link : of_device) {
      table.links.push_back(link);
      if (link.serving && link.weak) table.weak_devices.push_back(link.device);
    }
  }
  table.areas.resize(site.areas.size());
  for (std::size_t i = 0; i < site.areas.size(); ++i) {
    const Area& area = site.areas[i];
    table.areas[i] = area_cover(site, area, candidates(hubs, area.hub), options.area_step_m, options.threads);
  }
  table.hubs = loads(site, table);
  table.cautions = table_cautions(site, scene, table);
  return table;
}

}  // namespace linkmargin
