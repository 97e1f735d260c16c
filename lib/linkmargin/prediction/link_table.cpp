#include "linkmargin/prediction/link_table.hpp"

#include "linkmargin/base/parallel.hpp"
#include "linkmargin/prediction/link_warnings.hpp"
#include "linkmargin/prediction/read_stations.hpp"
#include "linkmargin/prediction/serving/slot_choice.hpp"
#include "linkmargin/prediction/station_table.hpp"

#include <algorithm>
#include <iterator>

namespace linkmargin {
namespace {

void add_chances(const Site& site, const FadingModel& fading_model, TableDetail detail, Link& link) {
  if (detail == TableDetail::chances) return add_chance(site, fading_model, link);
  linkmargin::add_chances(site, fading_model, link);
}

/// The device's way as though its own present reading had not been taken; enrolled as it was read.
Link unread_way(const Site& site, const Device& device, const PresentReading& read, const Stations& stations,
                const Stations& bare, const FadingModel& fading_model) {
  const Stations without = without_reading(stations, read.row);
  return predicted_serving_link(site, as_read(site, device, read, bare, fading_model), without, fading_model);
}

/// A repeater's way to its hub, its own reading left out as a device's is.
Link way_of_repeater(const Site& site, const RepeaterEndpoint& repeater, const PresentReadings& present,
                     const Stations& stations, const FadingModel& fading_model) {
  const Link& way = *repeater.onward;
  const PresentReading* read = present.find(way.device);
  const auto of_site = std::ranges::find(site.repeaters, way.device, &Repeater::name);
  if (read == nullptr || of_site == site.repeaters.end()) return way;
  Device enrolled = as_device(*of_site);
  enrolled.hub = way.hub;
  enrolled.via = way.via.empty() ? kDirect : way.via.front();
  return predicted_serving_link(site, enrolled, without_reading(stations, read->row), fading_model);
}

/// The best ways of all devices, slots not looked at.
std::vector<Link> best_ways(const Site& site, const LinkTableOptions& options, const PresentReadings& present,
                            const Stations& stations, const FadingModel& fading_model) {
  std::vector<Link> links(site.devices.size());
  const Stations bare = present.of_device.empty() ? Stations{} : without_readings(stations);
  parallel_for(site.devices.size(), options.threads, [&](std::size_t i) {
    const Device& device = site.devices[i];
    const PresentReading* read = present.find(device.name);
    links[i] = read == nullptr ? predicted_serving_link(site, device, stations, fading_model)
                               : unread_way(site, device, *read, stations, bare, fading_model);
  });
  return links;
}

/// The serving link of each device, or one for each way that it may go.
std::vector<std::vector<Link>> all_links(const Site& site, const LinkTableOptions& options,
                                         const Stations& stations, const FadingModel& fading_model,
                                         std::vector<Link> serving) {
  std::vector<std::vector<Link>> links(serving.size());
  parallel_for(serving.size(), options.threads, [&](std::size_t i) {
    if (options.all_pairs) {
      for (Link& way : ways(site, unenrolled(site.devices[i]), stations, fading_model)) {
        const bool serves = way.hub == serving[i].hub && way.via == serving[i].via;
        links[i].push_back(serves ? serving[i] : std::move(way));
        links[i].back().serving = serves;
      }
    } else {
      links[i].push_back(std::move(serving[i]));
    }
    for (Link& link : links[i]) add_chances(site, fading_model, options.detail, link);
  });
  return links;
}

void add_outcome(const LinkTable& table, Link& link) {
  link.outcome = outcome(link, table.reading, table.present);
  const PresentReading* read = table.present.find(link.device);
  if (read == nullptr) return;
  link.read_percent = read->percent;
  link.earlier_percent = read->earlier_percent;
}

void add_outcomes(LinkTable& table) {
  for (Link& link : table.links) {
    if (!link.serving) continue;
    add_outcome(table, link);
    if (link.outcome == Outcome::weak) table.weak_devices.push_back(link.device);
    if (link.outcome == Outcome::doubtful) table.doubtful_devices.push_back(link.device);
  }
  for (Link& link : table.repeaters) add_outcome(table, link);
}

/// The repeater that an area goes by takes its slot too.
Link way_of(const AreaCover& cover) {
  Link way;
  way.hub = cover.hub;
  way.via = cover.via;
  return way;
}

}  // namespace

LinkTable link_table(const Site& site, const LinkTableOptions& options, const Scene& scene,
                     const Stations& stations, const FadingModel& fading_model) {
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
  table.present = present_readings(site, options.readings, options.doors);
  SlotBook book(site, stations);
  table.areas.resize(site.areas.size());
  for (std::size_t i = 0; i < site.areas.size(); ++i) {
    const Area& area = site.areas[i];
    table.areas[i] = area_cover(site, area, stations, fading_model,
                                {options.area_step_m, options.detail == TableDetail::all, options.threads});
    book.take(way_of(table.areas[i]), {site.profiles.at(area.profile).device_class, area.slots});
  }
  std::vector<Link> serving = ways_within_slots(
      site, stations, fading_model, best_ways(site, options, table.present, stations, fading_model), book);
  for (auto& of_device : all_links(site, options, stations, fading_model, std::move(serving)))
    std::ranges::move(of_device, std::back_inserter(table.links));
  for (const RepeaterEndpoint& repeater : stations.repeaters) {
    table.repeaters.push_back(way_of_repeater(site, repeater, table.present, stations, fading_model));
    if (options.detail == TableDetail::all)
      add_chances(site, fading_model, options.detail, table.repeaters.back());
  }
  add_outcomes(table);
  table.hubs = book.hub_loads();
  table.repeater_loads = book.repeater_loads();
  if (options.detail != TableDetail::all) return table;
  table.warnings = table_warnings(site, scene, table);
  add_once(table.warnings, table.present.left_out);
  return table;
}

LinkTable link_table(const Site& site, const LinkTableOptions& options, const Scene& scene) {
  if (options.direct && !site.repeaters.empty()) {
    LinkTableOptions of_hubs = options;
    of_hubs.direct = false;
    return link_table(without_repeaters(site), of_hubs, scene);
  }
  const FadingModel fading_model(site.fading);
  return link_table(site, options, scene, stations(site, scene, fading_model, options.nearby), fading_model);
}

LinkTable link_table(const Site& site, const LinkTableOptions& options) {
  return link_table(site, options, Scene(site, options.doors, options.threads));
}

LinkTable link_table(const Site& site, const LinkTableOptions& options, SceneCacheSet& scenes) {
  if (options.threads > 1) throw DomainError("a store of scenes serves one thread at a time");
  const auto traced = scenes.scene(site, options.doors);
  const FadingModel& fading_model = scenes.fading_model(site.fading);
  return link_table(site, options, *traced->scene(), stations(site, *traced, fading_model, options.nearby),
                    fading_model);
}

}  // namespace linkmargin
