#include "linkmargin/prediction/serving/place_levels.hpp"

#include "linkmargin/base/parallel.hpp"
#include "linkmargin/link/radio/metal_mount.hpp"
#include "linkmargin/link/radio/noise_rise.hpp"
#include "linkmargin/prediction/serving/serving.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

constexpr std::size_t kPlacesAtOnce = 64;

/// What the station sends, as a receiver at the radio's place gets it, whether the radio listens or not.
std::optional<double> received_dbm(const Site& site, const Device& radio, const HubEndpoint& station,
                                   const Link& link) {
  const Point3 at = site.point(radio.place);
  RadioEnd listener = radio_end(site.profiles.at(radio.profile), radio);
  listener.learned_offset_db = learned_radio_db(site.calibration, radio.name);
  listener.sensitivity = listener.sensitivity.value_or(Dbm{0});
  const auto way =
      link_budget(towards(station.radio, station.at, at), listener, link.loss.path_loss_db, site.reading);
  if (!way) return {};
  return way->level.value + link.nearby_shift_db.value_or(0);
}

PlacePrediction level_of(const Site& site, const Device& radio, const Stations& stations,
                         const FadingModel& fading_model) {
  Link link = predicted_serving_link(site, radio, stations, fading_model);
  add_chance(site, fading_model, link);
  const LinkBudget& way = link.weaker();
  return {.hub = link.hub,
          .via = link.via,
          .distance_m = link.loss.distance_m,
          .path_loss_db = link.loss.path_loss_db,
          .level_dbm = way.level.value,
          .received_dbm = received_dbm(site, radio, *stations.find(link.heard_by()), link),
          .margin_db = way.margin.value,
          .reading_percent = way.reading_percent,
          .sigma_db = link.sigma_db,
          .pass_probability = link.pass_probability,
          .weak = link.weak};
}

}  // namespace

std::vector<PlacePrediction> place_levels(const Site& of, std::span<const Device> radios,
                                          const PlaceLevelOptions& options) {
  return place_levels(of, radios, options, Scene(of, options.doors, options.threads));
}

std::vector<PlacePrediction> place_levels(const Site& of, std::span<const Device> radios,
                                          const PlaceLevelOptions& options, const Scene& scene) {
  const Site site = options.direct ? without_repeaters(of) : of;
  const FadingModel fading_model(site.fading);
  const Stations stations = linkmargin::stations(site, scene, fading_model, options.nearby);
  std::vector<PlacePrediction> levels(radios.size());
  const std::size_t blocks = (radios.size() + kPlacesAtOnce - 1) / kPlacesAtOnce;
  parallel_for(blocks, options.threads, [&](std::size_t block) {
    const std::size_t end = std::min(radios.size(), (block + 1) * kPlacesAtOnce);
    for (std::size_t i = block * kPlacesAtOnce; i < end; ++i)
      levels[i] = level_of(site, radios[i], stations, fading_model);
  });
  return levels;
}

}  // namespace linkmargin
