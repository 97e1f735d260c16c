#include "linkmargin/analysis/review/place_trials.hpp"

#include "linkmargin/analysis/relocation/move_places.hpp"
#include "linkmargin/base/parallel.hpp"
#include "linkmargin/site/mounting/mounting_places.hpp"
#include "linkmargin/site/site_radios.hpp"

#include <algorithm>
#include <span>
#include <utility>

namespace linkmargin {
namespace {

constexpr double kDeviceStepM = 0.1;

/// Puts one radio of a site to another place.
using Move = void (*)(Site&, std::size_t radio, const Placement& place);

class Trials {
 public:
  Trials(const Site& site, const PlaceTrialOptions& options)
      : site_(site),
        options_(options),
        scenes_(static_cast<std::size_t>(std::max(1, options.threads)), SceneCacheSet(1)) {
    for (const Device& device : site.devices) devices_at_.push_back(site.point(device.place));
  }

  /// @param device  that alone counts; none: all
  RadioTrials run(const std::string& radio, std::size_t position, const std::vector<Placement>& places,
                  Move move, std::optional<std::size_t> device) {
    RadioTrials found{.radio = radio, .device = device.has_value(), .places = {}};
    found.places.resize(places.size());
    const std::size_t workers = scenes_.size();
    parallel_for(workers, options_.threads, [&](std::size_t worker) {
      SceneCacheSet& scenes = scenes_[worker];
      scenes.scene(site_, options_.doors)->let_stay(device ? std::span<const Point3>() : devices_at_);
      const LinkTableOptions asked{.doors = options_.doors,
                                   .area_step_m = kTrialAreaStepM,
                                   .nearby = options_.nearby,
                                   .detail = TableDetail::ranges};
      Site moved = site_;
      for (std::size_t i = worker; i < places.size(); i += workers) {
        move(moved, position, places[i]);
        const LinkTable table = link_table(moved, asked, scenes);
        std::vector<TrialFigures> figures = trial_figures(moved, table);
        if (device) figures = {figures[*device]};
        found.places[i] = {places[i], std::move(figures), device ? std::vector<int>() : slots_used(table)};
      }
    });
    return found;
  }

 private:
  const Site& site_;
  const PlaceTrialOptions& options_;
  std::vector<SceneCacheSet> scenes_;  // of each worker
  std::vector<Point3> devices_at_;
};

}  // namespace

std::vector<TrialFigures> trial_figures(const Site& site, const LinkTable& table) {
  std::vector<TrialFigures> figures;
  for (const Link& link : table.links) {
    if (!link.serving) continue;
    const LinkBudget& told = link.told();
    const std::string& station = link.heard_by();
    const auto hub = std::ranges::find(site.hubs, station, &Hub::name);
    const auto repeater = std::ranges::find(site.repeaters, station, &Repeater::name);
    const auto heard_by = hub != site.hubs.end()
                              ? hub - site.hubs.begin()
                              : std::ssize(site.hubs) + (repeater - site.repeaters.begin());
    figures.push_back({told.reading_percent, link.low_percent, link.high_percent, link.pass_probability,
                       link.outcome, static_cast<std::size_t>(heard_by)});
  }
  return figures;
}

std::vector<int> slots_used(const LinkTable& table) {
  std::vector<int> used;
  for (const auto* loads : {&table.hubs, &table.repeater_loads}) {
    for (const HubLoad& load : *loads) used.push_back(load.slots_used);
  }
  return used;
}

std::vector<RadioTrials> place_trials(const Site& site, const PlaceTrialOptions& options) {
  const MountingPlaces mounting(site);
  Trials trials(site, options);
  std::vector<RadioTrials> found;
  const std::size_t most =
      std::max<std::size_t>(1, options.most_links / std::max<std::size_t>(1, site.devices.size()));
  const auto add = [&](RadioTrials&& radio) {
    if (!radio.places.empty()) found.push_back(std::move(radio));
  };
  const auto everywhere = [&](MountingRequest request) {
    request.may_move.reset();
    return thinned(mounting.find(request, options.step_m), most);
  };
  for (std::size_t i = 0; i < site.hubs.size(); ++i) {
    const Hub& hub = site.hubs[i];
    if (hub.fixed) continue;
    add(trials.run(
        hub.name, i, everywhere(mounting_request(site, hub)),
        [](Site& moved, std::size_t radio, const Placement& place) { put_station(moved.hubs[radio], place); },
        {}));
  }
  for (std::size_t i = 0; i < site.repeaters.size(); ++i) {
    const Repeater& repeater = site.repeaters[i];
    if (repeater.fixed) continue;
    add(trials.run(repeater.name, i, everywhere(mounting_request(site, repeater)),
                   [](Site& moved, std::size_t radio, const Placement& place) {
                     put_station(moved.repeaters[radio], place);
                   },
                   {}));
  }
  for (std::size_t i = 0; i < site.devices.size(); ++i) {
    const Device& device = site.devices[i];
    const bool asked = std::ranges::find(options.moving, device.name) != options.moving.end();
    if (!asked || !device.may_move || site.profiles.at(device.profile).fixed_by_rule) continue;
    add(trials.run(
        device.name, i, move_places(mounting, mounting_request(site, device), kDeviceStepM),
        [](Site& moved, std::size_t radio, const Placement& place) { moved.devices[radio].place = place; },
        i));
  }
  return found;
}

}  // namespace linkmargin
