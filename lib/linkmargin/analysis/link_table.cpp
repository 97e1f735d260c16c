#include "linkmargin/analysis/link_table.hpp"

#include "linkmargin/analysis/parallel.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/link/reliability.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

std::vector<HubEnd> hub_ends(const Site& site) {
  std::vector<HubEnd> ends;
  for (const Hub& hub : site.hubs) {
    ends.push_back({hub.name, site.point(hub.place), radio_end(site.profiles.at(hub.profile))});
  }
  return ends;
}

/// The hubs that may serve: the named one, or all.
std::vector<HubEnd> candidates(const std::vector<HubEnd>& hubs, const std::optional<std::string>& named) {
  std::vector<HubEnd> chosen;
  for (const HubEnd& hub : hubs) {
    if (hub.radio.sensitivity && (!named || hub.name == *named)) chosen.push_back(hub);
  }
  if (chosen.empty()) throw DomainError("no hub can serve: the site is not sound");
  return chosen;
}

Link make_link(const Site& site, const Device& device, const HubEnd& hub, const Scene& scene) {
  Link link;
  link.device = device.name;
  link.hub = hub.name;
  const Point3 at = site.point(device.place);
  link.loss = path_loss(scene, at, hub.at);
  if (hub.at < at) std::reverse(link.loss.items.begin() + 1, link.loss.items.end());  // from device to hub
  const RadioEnd radio = radio_end(site.profiles.at(device.profile), device);
  const auto up = direction(radio, hub.radio, link.loss.path_loss_db, site.reading);
  if (!up) throw DomainError("device '" + device.name + "' does not transmit: the site is not sound");
  link.uplink = *up;
  link.downlink = direction(hub.radio, radio, link.loss.path_loss_db, site.reading);
  link.weaker_is_downlink = link.downlink && link.downlink->margin < link.uplink.margin;
  const Direction& counts = link.weaker();
  link.pass_probability = pass_probability(counts.level, threshold_level(site.reading), link.loss.sigma_db);
  link.weak = counts.reading_percent < site.reading.weak_below_percent;
  return link;
}

/// The links of one device: the serving one alone, or one for each hub.
std::vector<Link> links_of(const Site& site, const Device& device, const std::vector<HubEnd>& hubs,
                           const Scene& scene, bool all_pairs) {
  const std::vector<HubEnd> may_serve = candidates(hubs, device.hub);
  const std::vector<HubEnd> listed = all_pairs ? candidates(hubs, {}) : may_serve;
  std::vector<Link> links;
  for (const HubEnd& hub : listed) links.push_back(make_link(site, device, hub, scene));
  const Link* serving = nullptr;
  for (const Link& link : links) {
    const bool may = std::any_of(may_serve.begin(), may_serve.end(),
                                 [&](const HubEnd& hub) { return hub.name == link.hub; });
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

void add_once(std::vector<std::string>& texts, const std::string& text) {
  if (std::find(texts.begin(), texts.end(), text) == texts.end()) texts.push_back(text);
}

/// How many walls in a row make a plain sum over them too high: common practice (docs/methods.md, "What the
/// model cannot know").
constexpr int kManyWalls = 3;

void add_cautions(const Site& site, const Scene& scene, LinkTable& table) {
  for (const std::string& caution : site_cautions(site)) add_once(table.cautions, caution);
  for (const std::string& caution : scene.cautions()) add_once(table.cautions, caution);
  std::string many;
  for (const Link& link : table.links) {
    for (const std::string& caution : link.loss.cautions) add_once(table.cautions, caution);
    const auto walls =
        std::count_if(link.loss.items.begin(), link.loss.items.end(), [](const LossItem& item) {
          return item.cause == LossCause::wall || item.cause == LossCause::opening;
        });
    if (link.serving && walls >= kManyWalls) many += (many.empty() ? "" : ", ") + link.device;
    if (link.serving && link.weaker().margin < Db{0}) {
      add_once(table.cautions, link.device + ": the predicted level is " +
                                   fixed_text(-link.weaker().margin.value, 1) +
                                   " dB under the receiver's sensitivity; expect no reading at all");
    }
  }
  if (!many.empty()) {
    add_once(table.cautions,
             "three or more walls in a row, where the straight line alone is pessimistic: " + many);
  }
  for (const HubLoad& load : table.hubs) {
    if (load.over_capacity) {
      add_once(table.cautions, load.hub + ": more places are used than it has (" +
                                   std::to_string(load.slots_used) + " of " + std::to_string(*load.capacity) +
                                   " in all)");
    }
  }
  if (!site.repeaters.empty()) {
    add_once(table.cautions,
             "repeaters are placed but not yet counted: every link is predicted straight to a hub");
  }
}

}  // namespace

LinkTable link_table(const Site& site, const LinkTableOptions& options) {
  const Scene scene(site, options.doors);
  const std::vector<HubEnd> hubs = hub_ends(site);
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
  parallel_for(site.devices.size(), options.threads, [&](std::size_t i) {
    links[i] = links_of(site, site.devices[i], hubs, scene, options.all_pairs);
  });
  for (const auto& of_device : links) {
    for (const Link& link : of_device) {
      table.links.push_back(link);
      if (link.serving && link.weak) table.weak_devices.push_back(link.device);
    }
  }
  table.areas.resize(site.areas.size());
  parallel_for(site.areas.size(), options.threads, [&](std::size_t i) {
    const Area& area = site.areas[i];
    table.areas[i] = area_cover(site, area, scene, candidates(hubs, area.hub), options.area_step_m);
  });
  table.hubs = loads(site, table);
  add_cautions(site, scene, table);
  return table;
}

}  // namespace linkmargin
