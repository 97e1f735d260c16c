#include "linkmargin/prediction/reading_prediction.hpp"

#include "linkmargin/base/parallel.hpp"
#include "linkmargin/base/range.hpp"
#include "linkmargin/prediction/serving.hpp"
#include "linkmargin/propagation/fading/fading.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>
#include <optional>

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

/// The scenes with doors closed and open, made when asked for.
class Scenes {
 public:
  explicit Scenes(const Site& site) : site_(site) {}

  const std::vector<HubEndpoint>& endpoints(Doors doors) {
    const std::size_t which = doors == Doors::open ? 1 : 0;
    if (!scenes_[which]) {
      scenes_[which] = std::make_unique<const Scene>(site_, doors);
      endpoints_[which] = hub_endpoints(site_, *scenes_[which]);
    }
    return endpoints_[which];
  }

 private:
  const Site& site_;
  std::unique_ptr<const Scene> scenes_[2];
  std::vector<HubEndpoint> endpoints_[2];
};

Device placed(const Site& site, const AskedLink& asked) {
  Device device = site.devices[asked.device];
  device.place = asked.place;
  return device;
}

PredictedReading looked_at(const Site& site, const AskedLink& asked, const HubEndpoint& hub,
                           const FadingModel& fading_model) {
  const Device device = placed(site, asked);
  const Link link = predicted_link(site, device, hub);
  const LinkBudget& way = link.lower();
  const double k_db = fading_model.k_db(link.loss.line_of_sight);
  PredictedReading found;
  found.level_dbm = way.level.value + rician_mean_db(k_db);
  found.floor_dbm = (way.sensitivity + way.noise_rise).value;
  found.local_db = link.loss.sigma_db;
  found.model_db = link.loss.items.front().sigma_db;
  found.spot_db = spot_sigma_db(fading_model, link.loss.line_of_sight);
  found.closed_leaf = std::ranges::any_of(
      link.loss.items, [](const LossItem& item) { return item.cause == LossCause::opening; });
  found.device = site.point(device.place);
  found.hub = hub.at;
  return found;
}

}  // namespace

ReadingLinks reading_links(const Site& site, const std::vector<Reading>& readings, Doors doors) {
  ReadingLinks found;
  std::map<std::pair<std::size_t, Doors>, std::size_t> serving;
  Scenes scenes(site);
  for (const Reading& reading : readings) {
    AskedLink asked;
    asked.device = position_of(site.devices, reading.device);
    const Device& device = site.devices[asked.device];
    asked.place = reading.place.value_or(device.place);
    asked.doors = reading.doors_open ? (*reading.doors_open ? Doors::open : Doors::armed) : doors;
    if (reading.hub) {
      asked.hub = position_of(site.hubs, *reading.hub);
    } else {
      const auto key = std::pair(asked.device, asked.doors);
      if (!serving.contains(key)) {
        const Link link = predicted_serving_link(site, device, scenes.endpoints(asked.doors));
        serving[key] = position_of(site.hubs, link.hub);
      }
      asked.hub = serving[key];
    }
    const auto same = std::ranges::find_if(found.links, [&](const AskedLink& other) {
      return other.device == asked.device && other.hub == asked.hub && other.doors == asked.doors &&
             other.place == asked.place;
    });
    found.of_reading.push_back(static_cast<std::size_t>(same - found.links.begin()));
    if (same == found.links.end()) found.links.push_back(asked);
  }
  return found;
}

std::vector<PredictedReading> predict_readings(const Site& site, const std::vector<AskedLink>& links,
                                               int threads) {
  Scenes scenes(site);
  const FadingModel fading_model(site.fading);
  for (const AskedLink& asked : links) scenes.endpoints(asked.doors);
  std::vector<PredictedReading> found(links.size());
  parallel_for(links.size(), threads, [&](std::size_t i) {
    found[i] = looked_at(site, links[i], scenes.endpoints(links[i].doors)[links[i].hub], fading_model);
  });
  return found;
}

ReadLevel level_of(const Reading& reading, const ReadingScale& scale, double floor_dbm) {
  if (reading.level) return {ReadingKind::exact, *reading.level};
  return read_level(scale, *reading.percent, Dbm{floor_dbm});
}

double spot_sigma_db(const FadingModel& fading_model, bool line_of_sight) {
  return std::hypot(rician_deviation_db(fading_model.k_db(line_of_sight)), kReceiverSigmaDb);
}

}  // namespace linkmargin
