#include "linkmargin/analysis/coverage/coverage.hpp"

#include "linkmargin/analysis/coverage/adaptive_sampling.hpp"
#include "linkmargin/analysis/coverage/direct_path_map.hpp"
#include "linkmargin/analysis/coverage/link_map.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/base/parallel.hpp"
#include "linkmargin/link/radio/noise_rise.hpp"
#include "linkmargin/prediction/serving/serving.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/site/storey_extent.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>

namespace linkmargin {
namespace {

constexpr double kRoundM = 1;          ///< shown round everything
constexpr double kUsualHeightM = 1.5;  ///< where no device hangs
constexpr double kCellRoundingM = 1e-9;

std::size_t storey_of(const Site& site, const std::optional<std::string>& name) {
  if (name) {
    for (std::size_t s = 0; s < site.storeys.size(); ++s) {
      if (site.storeys[s].name == *name) return s;
    }
    throw DomainError("unknown storey '" + *name + "'");
  }
  std::vector<std::size_t> devices(site.storeys.size());
  for (const Device& device : site.devices) ++devices[device.place.storey];
  return static_cast<std::size_t>(std::ranges::max_element(devices) - devices.begin());
}

/// The value that most of some devices have; of several, the first by order.
template <typename Value, typename Counts, typename Of>
std::optional<Value> most_used(const Site& site, Counts counts, Of of) {
  std::map<Value, int> uses;
  for (const Device& device : site.devices) {
    if (counts(device)) ++uses[of(device)];
  }
  const auto most = std::ranges::max_element(uses, {}, [](const auto& use) { return use.second; });
  return most == uses.end() ? std::nullopt : std::optional(most->first);
}

std::string profile_of(const Site& site, std::size_t storey, const std::optional<std::string>& name) {
  if (name) {
    if (!site.profiles.contains(*name)) throw DomainError("unknown profile '" + *name + "'");
    return *name;
  }
  const auto on_storey = [&](const Device& device) { return device.place.storey == storey; };
  const auto its_profile = [](const Device& device) { return device.profile; };
  if (const auto here = most_used<std::string>(site, on_storey, its_profile)) {
    return *here;
  }
  if (!site.devices.empty()) return site.devices.front().profile;
  for (const auto& [known, profile] : site.profiles) {
    if (profile.transmit && known == "contact") return known;
  }
  throw DomainError("the site has no device: name a profile");
}

/// The height of most of the storey's devices of a profile; of most of its devices where it has none of that.
double usual_height_m(const Site& site, std::size_t storey, const std::string& profile) {
  const auto height = [](const Device& device) { return device.place.height_m; };
  const auto here = [&](const Device& device) { return device.place.storey == storey; };
  const auto such = [&](const Device& device) { return here(device) && device.profile == profile; };
  if (const auto used = most_used<double>(site, such, height)) return *used;
  return most_used<double>(site, here, height).value_or(kUsualHeightM);
}

/// A metre round all of a storey; round the hubs where nothing is on it.
Box2 map_box(const Site& site, std::size_t storey) {
  Box2 box = storey_extent(site, storey);
  if (box.empty()) {
    for (const Hub& hub : site.hubs) box.take(hub.place.at);
  }
  return {box.min - Point2{kRoundM, kRoundM}, box.max + Point2{kRoundM, kRoundM}};
}

/// What a cell's figures follow from; nothing where hub and carried device cannot talk.
std::optional<CoverageHub> coverage_hub(const Site& site, const Hub& hub, const RadioEnd& device) {
  HubRadio end = hub_radio(site, hub);
  end.radio.metal_loss_db = 0;  // each cell has its own
  const auto ways = two_way_budget(device, end.radio, 0, site.reading);
  if (!ways) return std::nullopt;
  CoverageHub made{.name = end.name, .at = end.at};
  made.metal = end.radio.metal;
  made.weaker_is_downlink = ways->weaker_is_downlink;
  const LinkBudget& weaker = made.weaker_is_downlink ? *ways->downlink : ways->uplink;
  made.level_at_no_loss_dbm = weaker.level.value;
  made.sensitivity_dbm = weaker.level.value - weaker.margin.value;
  if (ways->downlink) {
    const LinkBudget& other = made.weaker_is_downlink ? ways->uplink : *ways->downlink;
    made.other = {other.level.value, other.level.value - other.margin.value};
  }
  return made;
}

/// By how much the hop of a way that lacks most is over what it needs.
double headroom_db(const Link& way, const ReadingScale& scale) {
  const double own_db = -way.shortfall(scale).value;
  return way.onward ? std::min(own_db, headroom_db(*way.onward, scale)) : own_db;
}

/// Whether a device that is carried about may be enrolled at it.
bool serves(const RepeaterEndpoint& repeater) {
  return repeater.serves != RepeaterServes::areas && repeater.hears.radio.sensitivity;
}

std::vector<CoverageHub> coverage_hubs(const Site& site, const std::optional<std::string>& named,
                                       const RadioEnd& device, const Stations& stations) {
  std::vector<CoverageHub> hubs;
  bool known = false;
  for (const Hub& hub : site.hubs) {
    if (named && hub.name != *named) continue;
    known = true;
    if (auto made = coverage_hub(site, hub, device)) hubs.push_back(std::move(*made));
  }
  if (named && !known) throw DomainError("unknown hub '" + *named + "'");
  if (hubs.empty()) throw DomainError("no hub hears that profile");
  for (const RepeaterEndpoint& repeater : stations.repeaters) {
    const auto of_site = std::ranges::find(site.repeaters, repeater.hears.name, &Repeater::name);
    auto made = serves(repeater) ? coverage_hub(site, as_hub(*of_site), device) : std::nullopt;
    if (!made) continue;
    made->hub = repeater.onward->hub;
    made->onward_headroom_db = headroom_db(*repeater.onward, site.reading);
    hubs.push_back(std::move(*made));
  }
  return hubs;
}

void add_by_projection(CoverageMap& map, const DirectPathMap& straight, const LevelGrid& grid,
                       const CoverageOptions& options) {
  Progress progress(options.progress, map.hubs.size());
  straight.find(map.hubs[0].at, grid, options.threads, map.path_loss_db);
  progress.step();
  std::vector<float> loss_db(map.hubs.size() > 1 ? grid.size() : 0);
  for (std::size_t hub = 1; hub < map.hubs.size(); ++hub) {
    straight.find(map.hubs[hub].at, grid, options.threads, loss_db);
    progress.step();
    for (std::size_t cell = 0; cell < grid.size(); ++cell) {
      if (!is_better_hub(map, map.centre(cell), hub, loss_db[cell], map.hub_of[cell], map.path_loss_db[cell]))
        continue;
      map.path_loss_db[cell] = loss_db[cell];
      map.hub_of[cell] = static_cast<std::uint16_t>(hub);
    }
  }
}

void add_by_links(CoverageMap& map, const Site& site, std::size_t storey, const Scene& scene,
                  const Stations& stations, const LevelGrid& grid, const CoverageOptions& options) {
  const ParameterSpread spread(site);
  const LinkMap links(map, site, storey, scene, spread, options.nearby, stations);
  if (options.within_db > 0) {
    const AdaptiveSampling tiles{
        .within_db = options.within_db,
        .find = [&](Point2 at) { return links.find(at); },
        .parted = [&](const Box2& block) { return links.parted(block); },
        .put = [&](std::size_t cell, const MapCell& value) { links.put(cell, value); }};
    Progress progress(options.progress, AdaptiveSampling::steps(grid));
    tiles.fill(grid, options.threads, progress);
    return;
  }
  const CoverageRows asked = options.rows.value_or(CoverageRows{0, grid.rows});
  Progress progress(options.progress, static_cast<std::size_t>(asked.count));
  const auto columns = static_cast<std::size_t>(grid.columns);
  parallel_for(static_cast<std::size_t>(asked.count), options.threads, [&](std::size_t of_asked) {
    const std::size_t row = static_cast<std::size_t>(asked.first) + of_asked;
    for (std::size_t cell = row * columns; cell < (row + 1) * columns; ++cell)
      links.put(cell, links.find(map.centre(cell)));
    progress.step();
  });
}

}  // namespace

CoverageMap coverage(const Site& site, const CoverageOptions& options) {
  return coverage(site, options, Scene(site, options.doors, options.threads));
}

CoverageMap coverage(const Site& site, const CoverageOptions& options, const Scene& scene) {
  require_in(kCoverageStepM, options.step_m);
  require_in(kCoverageWithinDb, options.within_db);
  const std::size_t position = storey_of(site, options.storey);
  const Storey& storey = site.storeys[position];
  CoverageMap map;
  map.site = site.name;
  map.storey = storey.name;
  map.profile = profile_of(site, position, options.profile);
  map.frequency_hz = site.radio.frequency_hz;
  map.doors = options.doors;
  map.height_m = options.height_m.value_or(usual_height_m(site, position, map.profile));
  map.z_m = storey.level_m + map.height_m;
  map.reading = site.reading;
  map.fading_model = FadingModel(site.fading);
  map.step_m = options.step_m;
  const Box2 box = map_box(site, position);
  map.origin = box.min;
  const auto cells = [&](double size) { return std::ceil((size - kCellRoundingM) / map.step_m); };
  const double across = cells(box.max.x - box.min.x);
  const double up = cells(box.max.y - box.min.y);
  if (across * up > static_cast<double>(kMostCells)) {
    const double step_m = map.step_m * std::sqrt(across * up / static_cast<double>(kMostCells));
    throw DomainError("too many cells: take a step of at least " +
                      fixed_text(std::ceil(100 * step_m) / 100, 2) + " m");
  }
  map.columns = static_cast<int>(across);
  map.rows = static_cast<int>(up);
  if (const auto& rows = options.rows;
      rows &&
      (rows->first < 0 || rows->count < 0 || rows->first > map.rows || rows->count > map.rows - rows->first))
    throw DomainError("rows " + std::to_string(rows->first) + " to " +
                      std::to_string(rows->first + rows->count - 1) + " are none of a map of " +
                      std::to_string(map.rows));
  const RadioEnd device = in_noise(radio_end(site.profiles.at(map.profile), Device{}), site.radio);
  Stations stations;
  if (!options.hub && !options.direct && !site.repeaters.empty())
    stations = linkmargin::stations(site, scene, map.fading_model, options.nearby);
  map.hubs = coverage_hubs(site, options.hub, device, stations);
  map.warnings = all_site_warnings(site);
  map.warnings.insert(map.warnings.end(), scene.warnings().begin(), scene.warnings().end());
  if (map.height_m > storey.height_m || map.height_m < 0) {
    map.warnings.push_back({.code = WarningCode::map_height,
                            .arguments = {{"height", LengthFigure{map.height_m}},
                                          {"storey", Quoted{storey.name}},
                                          {"storey_height", LengthFigure{storey.height_m}}}});
  }
  const LevelGrid grid{map.origin, map.step_m, map.columns, map.rows, map.z_m};
  map.path_loss_db.resize(grid.size());
  if (options.chances) {
    map.sigma_db.resize(grid.size());
    map.k_db.resize(grid.size());
  }
  if (!options.nearby.empty()) map.nearby_shift_db.resize(grid.size());
  map.nearby_readings = options.nearby.count();
  if (map.hubs.size() > 1) map.hub_of.resize(grid.size());
  if (!stations.repeaters.empty() && options.chances) map.onward_probability.resize(grid.size());
  const bool spreads = options.chances || !options.nearby.empty() || !stations.repeaters.empty();
  const auto straight =
      spreads || counts_diffraction(scene.radio()) ? nullptr : std::make_unique<const DirectPathMap>(scene);
  const auto casts = [&](const CoverageHub& hub) { return straight->uses_projection(hub.at, grid.z_m); };
  if (straight && std::ranges::all_of(map.hubs, casts)) {
    add_by_projection(map, *straight, grid, options);
  } else {
    add_by_links(map, site, position, scene, stations, grid, options);
  }
  return map;
}

}  // namespace linkmargin
