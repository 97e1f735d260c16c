#include "linkmargin/prediction/reading_prediction.hpp"

#include "linkmargin/base/parallel.hpp"
#include "linkmargin/base/range.hpp"
#include "linkmargin/prediction/serving/serving.hpp"
#include "linkmargin/propagation/fading/fading.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <memory>
#include <optional>
#include <tuple>

namespace linkmargin {
namespace {

/// Of a receiver's own display of a level, steps and temperature: common practice.
constexpr double kReceiverSigmaDb = 1;

template <typename Nouns>
std::size_t position_of(const Nouns& nouns, const std::string& name) {
  const auto found = std::ranges::find_if(nouns, [&](const auto& noun) { return noun.name == name; });
  if (found == nouns.end()) throw DomainError("a reading names '" + name + "', which the site lacks");
  return static_cast<std::size_t>(found - nouns.begin());
}

/// The scenes with doors closed and open, made when asked for where they are not known.
class Scenes {
 public:
  Scenes(const Site& site, const KnownScene& known, int threads)
      : site_(site), fading_model_(site.fading), threads_(threads) {
    if (known.scene != nullptr) scenes_[position_of(known.doors)] = known.scene;
  }

  const FadingModel& fading_model() const { return fading_model_; }

  const Stations& endpoints(Doors doors) {
    const std::size_t which = position_of(doors);
    if (!stations_[which]) {
      if (scenes_[which] == nullptr) {
        own_[which] = std::make_unique<const Scene>(site_, doors, threads_);
        scenes_[which] = own_[which].get();
      }
      stations_[which] = stations(site_, *scenes_[which], fading_model_);
    }
    return *stations_[which];
  }

 private:
  static std::size_t position_of(Doors doors) { return doors == Doors::open ? 1 : 0; }

  const Site& site_;
  FadingModel fading_model_;
  int threads_;
  std::array<const Scene*, 2> scenes_{};
  std::array<std::unique_ptr<const Scene>, 2> own_;
  std::array<std::optional<Stations>, 2> stations_;
};

/// @param position  AskedLink::station
const HubEndpoint& station_at(const Site& site, const Stations& stations, std::size_t position) {
  if (position < stations.hubs.size()) return stations.hubs[position];
  const std::string& name = station_name(site, position);
  const HubEndpoint* found = stations.find(name);
  if (found == nullptr) throw DomainError("repeater '" + name + "' reaches no hub");
  return *found;
}

std::size_t station_position(const Site& site, const std::string& name) {
  const auto repeater = std::ranges::find(site.repeaters, name, &Repeater::name);
  if (repeater == site.repeaters.end()) return position_of(site.hubs, name);
  return site.hubs.size() + static_cast<std::size_t>(repeater - site.repeaters.begin());
}

/// @param position  AskedLink::device
Device device_at(const Site& site, std::size_t position) {
  return position < site.devices.size() ? site.devices[position]
                                        : as_device(site.repeaters.at(position - site.devices.size()));
}

Device placed(const Site& site, const AskedLink& asked) {
  Device device = device_at(site, asked.device);
  device.place = asked.place;
  return device;
}

PredictedReading looked_at(const Site& site, const AskedLink& asked, const HubEndpoint& hub,
                           const FadingModel& fading_model) {
  const Device device = placed(site, asked);
  const Link link = predicted_link(site, device, hub);
  const LinkBudget& way = link.lower();
  const double k_db = fading_model.k_db(link.loss);
  PredictedReading found;
  found.spot_mean_db = rician_mean_db(k_db);
  found.level_dbm = way.level.value + found.spot_mean_db;
  found.floor_dbm = (way.sensitivity + way.noise_rise).value;
  found.local_db = link.loss.sigma_db;
  found.sigma_db = link.sigma_db;
  found.model_db = link.loss.items.front().sigma_db;
  found.spot_db = spot_sigma_db(k_db);
  found.closed_leaf = std::ranges::any_of(
      link.loss.items, [](const LossItem& item) { return item.cause == LossCause::opening; });
  found.device = site.point(device.place);
  found.hub = hub.at;
  return found;
}

}  // namespace

const std::string& station_name(const Site& site, std::size_t station) {
  return station < site.hubs.size() ? site.hubs[station].name
                                    : site.repeaters.at(station - site.hubs.size()).name;
}

namespace {

/// What hears a device or repeater where its reading does not say.
std::string station_of(const Site& site, const Reading& reading, const Device& device, Scenes& scenes,
                       Doors doors) {
  const Stations& stations = scenes.endpoints(doors);
  if (!reading.of_repeater)
    return predicted_serving_link(site, device, stations, scenes.fading_model()).heard_by();
  const auto repeater = std::ranges::find_if(
      stations.repeaters, [&](const RepeaterEndpoint& one) { return one.hears.name == reading.device; });
  return repeater == stations.repeaters.end() ? site.hubs.front().name : repeater->onward->heard_by();
}

}  // namespace

ReadingLinks reading_links(const Site& site, const std::vector<Reading>& readings, Doors doors,
                           const KnownScene& known_scene) {
  ReadingLinks found;
  std::map<std::pair<std::size_t, Doors>, std::size_t> serving;
  std::map<std::tuple<std::size_t, std::size_t, Doors, std::size_t, double, double, double>, std::size_t>
      known;
  Scenes scenes(site, known_scene, 1);
  for (const Reading& reading : readings) {
    AskedLink asked;
    asked.device = reading.of_repeater ? site.devices.size() + position_of(site.repeaters, reading.device)
                                       : position_of(site.devices, reading.device);
    const Device device = device_at(site, asked.device);
    asked.place = reading.place.value_or(device.place);
    asked.doors = reading.doors_open ? (*reading.doors_open ? Doors::open : Doors::armed) : doors;
    if (reading.via) {
      asked.station = station_position(site, *reading.via);
    } else if (reading.hub) {
      asked.station = position_of(site.hubs, *reading.hub);
    } else {
      const auto key = std::pair(asked.device, asked.doors);
      if (!serving.contains(key)) {
        serving[key] = station_position(site, station_of(site, reading, device, scenes, asked.doors));
      }
      asked.station = serving[key];
    }
    const Placement& place = asked.place;
    const auto [same, first] = known.try_emplace(
        {asked.device, asked.station, asked.doors, place.storey, place.height_m, place.at.x, place.at.y},
        found.links.size());
    found.of_reading.push_back(same->second);
    if (first) found.links.push_back(asked);
  }
  return found;
}

std::vector<PredictedReading> predict_readings(const Site& site, const std::vector<AskedLink>& links,
                                               int threads, const KnownScene& known) {
  Scenes scenes(site, known, threads);
  for (const AskedLink& asked : links) scenes.endpoints(asked.doors);
  std::vector<PredictedReading> found(links.size());
  parallel_for(links.size(), threads, [&](std::size_t i) {
    const HubEndpoint& station = station_at(site, scenes.endpoints(links[i].doors), links[i].station);
    found[i] = looked_at(site, links[i], station, scenes.fading_model());
  });
  return found;
}

ReadLevel level_of(const Reading& reading, const ReadingScale& scale, double floor_dbm) {
  if (reading.level) return {ReadingKind::exact, *reading.level};
  if (reading.not_heard) return {ReadingKind::at_most, Dbm{floor_dbm}};
  return read_level(scale, *reading.percent, Dbm{floor_dbm});
}

double spot_sigma_db(double k_db) {
  return std::hypot(rician_deviation_db(k_db), kReceiverSigmaDb);
}

}  // namespace linkmargin
