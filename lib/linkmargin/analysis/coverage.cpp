#include "linkmargin/analysis/coverage.hpp"

#include "linkmargin/analysis/parallel.hpp"
#include "linkmargin/analysis/straight_map.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/link/budget.hpp"
#include "linkmargin/link/noise_rise.hpp"
#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/link/reliability.hpp"
#include "linkmargin/link/routes.hpp"

#include <algorithm>
#include <cmath>
#include <map>

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

Box2 extent(const Storey& storey, const Site& site, std::size_t position) {
  Box2 box{{1e9, 1e9}, {-1e9, -1e9}};
  const auto take = [&](Point2 p) {
    box.min = {std::min(box.min.x, p.x), std::min(box.min.y, p.y)};
    box.max = {std::max(box.max.x, p.x), std::max(box.max.y, p.y)};
  };
  for (const Room& room : storey.rooms) std::ranges::for_each(room.corners, take);
  for (const TracedWall& wall : storey.walls) {
    take(wall.line.a);
    take(wall.line.b);
  }
  for (const Obstacle& obstacle : storey.obstacles) std::ranges::for_each(obstacle.corners, take);
  for (const Hub& hub : site.hubs) {
    if (hub.place.storey == position) take(hub.place.at);
  }
  for (const Device& device : site.devices) {
    if (device.place.storey == position) take(device.place.at);
  }
  for (const Area& area : site.areas) {
    if (area.storey == position) std::ranges::for_each(area.corners, take);
  }
  if (box.min.x > box.max.x) {
    for (const Hub& hub : site.hubs) take(hub.place.at);
  }
  box.min = box.min - Point2{kRoundM, kRoundM};
  box.max = box.max + Point2{kRoundM, kRoundM};
  return box;
}

/// The weaker direction between the carried device and a hub; nothing where they cannot talk.
std::optional<CoverageHub> coverage_hub(const Site& site, const Hub& hub, const RadioEnd& device) {
  const RadioEnd radio = in_noise(radio_end(site.profiles.at(hub.profile)), site.radio);
  const auto up = direction(device, radio, 0, site.reading);
  if (!up) return std::nullopt;
  const auto down = direction(radio, device, 0, site.reading);
  CoverageHub made{.name = hub.name, .at = site.point(hub.place)};
  made.weaker_is_downlink = down && down->margin < up->margin;
  const Direction& weaker = made.weaker_is_downlink ? *down : *up;
  made.level_at_no_loss_dbm = weaker.level.value;
  made.sensitivity_dbm = weaker.level.value - weaker.margin.value;
  if (down) {
    const Direction& other = made.weaker_is_downlink ? *up : *down;
    made.other = {other.level.value, other.level.value - other.margin.value};
  }
  return made;
}

std::vector<CoverageHub> coverage_hubs(const Site& site, const std::optional<std::string>& named,
                                       const RadioEnd& device) {
  std::vector<CoverageHub> hubs;
  bool known = false;
  for (const Hub& hub : site.hubs) {
    if (named && hub.name != *named) continue;
    known = true;
    if (auto made = coverage_hub(site, hub, device)) hubs.push_back(std::move(*made));
  }
  if (named && !known) throw DomainError("unknown hub '" + *named + "'");
  if (hubs.empty()) throw DomainError("no hub hears that profile");
  return hubs;
}

/// Takes a hub for a cell where it has more margin than those before it.
bool better(const CoverageMap& map, std::size_t cell, std::size_t hub, double path_loss_db) {
  if (hub == 0) return true;
  const auto margin_db = [&](const CoverageHub& of, double loss_db) {
    return of.level_at_no_loss_dbm - loss_db - of.sensitivity_dbm;
  };
  return margin_db(map.hubs[hub], path_loss_db) > margin_db(map.hub(cell), map.path_loss_db[cell]);
}

void add_by_shadows(CoverageMap& map, const Scene& scene, const LevelGrid& grid, int threads) {
  const StraightMap straight(scene);
  straight.find(map.hubs[0].at, grid, threads, map.path_loss_db);
  std::vector<float> loss_db(map.hubs.size() > 1 ? grid.size() : 0);
  for (std::size_t hub = 1; hub < map.hubs.size(); ++hub) {
    straight.find(map.hubs[hub].at, grid, threads, loss_db);
    for (std::size_t cell = 0; cell < grid.size(); ++cell) {
      if (!better(map, cell, hub, loss_db[cell])) continue;
      map.path_loss_db[cell] = loss_db[cell];
      map.hub_of[cell] = static_cast<std::uint16_t>(hub);
    }
  }
}

void add_by_links(CoverageMap& map, const Scene& scene, const LevelGrid& grid, int threads) {
  std::vector<Vantage> vantages;
  for (const CoverageHub& hub : map.hubs) vantages.emplace_back(scene, hub.at);
  const auto columns = static_cast<std::size_t>(grid.columns);
  parallel_for(static_cast<std::size_t>(grid.rows), threads, [&](std::size_t row) {
    for (std::size_t cell = row * columns; cell < (row + 1) * columns; ++cell) {
      for (std::size_t hub = 0; hub < vantages.size(); ++hub) {
        const LossBreakdown loss = path_loss(vantages[hub], grid.centre(cell));
        const auto loss_db = static_cast<float>(loss.path_loss_db);
        if (!better(map, cell, hub, loss_db)) continue;
        map.path_loss_db[cell] = loss_db;
        if (!map.sigma_db.empty()) map.sigma_db[cell] = static_cast<float>(loss.sigma_db);
        if (!map.hub_of.empty()) map.hub_of[cell] = static_cast<std::uint16_t>(hub);
      }
    }
  });
}

}  // namespace

Point2 CoverageMap::centre(std::size_t cell) const {
  const auto across = static_cast<std::size_t>(columns);
  return {origin.x + (static_cast<double>(cell % across) + 0.5) * step_m,
          origin.y + (static_cast<double>(cell / across) + 0.5) * step_m};
}

namespace {

double reading_of(const CoverageMap& map, double level_dbm, double sensitivity_dbm) {
  return level_dbm < sensitivity_dbm ? 0 : reading_percent(map.reading, Dbm{level_dbm});
}

double chance_of(const CoverageMap& map, double level_dbm, double sensitivity_dbm, double sigma_db) {
  const double needed_dbm = std::max(threshold_level(map.reading).value, sensitivity_dbm);
  return pass_probability(Dbm{level_dbm}, Dbm{needed_dbm}, sigma_db);
}

}  // namespace

double value_at(const CoverageMap& map, std::size_t cell, CoverageValue value) {
  const CoverageHub& hub = map.hub(cell);
  const double loss_db = map.path_loss_db[cell];
  const double level_dbm = hub.level_at_no_loss_dbm - loss_db;
  switch (value) {
    case CoverageValue::loss:
      return loss_db;
    case CoverageValue::level:
      return level_dbm;
    case CoverageValue::margin:
      return level_dbm - hub.sensitivity_dbm;
    case CoverageValue::reading:
      return reading_of(map, level_dbm, hub.sensitivity_dbm);
    case CoverageValue::chance: {
      if (map.sigma_db.empty()) throw DomainError("the map was made without chances");
      const double chance = chance_of(map, level_dbm, hub.sensitivity_dbm, map.sigma_db[cell]);
      if (!hub.other) return chance;
      return std::min(chance, chance_of(map, hub.other->level_at_no_loss_dbm - loss_db,
                                        hub.other->sensitivity_dbm, map.sigma_db[cell]));
    }
  }
  return 0;
}

bool weak_at(const CoverageMap& map, std::size_t cell) {
  if (value_at(map, cell, CoverageValue::reading) < map.reading.weak_below_percent) return true;
  const CoverageHub& hub = map.hub(cell);
  return hub.other && reading_of(map, hub.other->level_at_no_loss_dbm - map.path_loss_db[cell],
                                 hub.other->sensitivity_dbm) < map.reading.weak_below_percent;
}

double weak_share_percent(const CoverageMap& map, const Site& site) {
  const auto storey = std::ranges::find(site.storeys, map.storey, &Storey::name);
  std::size_t cells = 0;
  std::size_t weak = 0;
  for (std::size_t cell = 0; cell < map.size(); ++cell) {
    const Point2 p = snapped(map.centre(cell));
    const bool counts =
        storey == site.storeys.end() || storey->rooms.empty() ||
        std::ranges::any_of(storey->rooms, [&](const Room& room) { return contains(room.corners, p); });
    if (!counts) continue;
    ++cells;
    weak += weak_at(map, cell) ? 1 : 0;
  }
  return cells == 0 ? 0 : 100 * static_cast<double>(weak) / static_cast<double>(cells);
}

CoverageMap coverage(const Site& site, const CoverageOptions& options) {
  require_in(kCoverageStepM, options.step_m);
  const std::size_t position = storey_of(site, options.storey);
  const Storey& storey = site.storeys[position];
  CoverageMap map;
  map.site = site.name;
  map.storey = storey.name;
  map.profile = profile_of(site, position, options.profile);
  map.frequency_hz = site.radio.frequency_hz;
  map.doors = options.doors;
  map.height_m = options.height_m.value_or(usual_height_m(site, position, map.profile));
  map.reading = site.reading;
  map.step_m = options.step_m;
  const Box2 box = extent(storey, site, position);
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
  const RadioEnd device = in_noise(radio_end(site.profiles.at(map.profile)), site.radio);
  map.hubs = coverage_hubs(site, options.hub, device);

  const Scene scene(site, options.doors);
  map.cautions = site_cautions(site);
  map.cautions.insert(map.cautions.end(), scene.cautions().begin(), scene.cautions().end());
  if (map.height_m > storey.height_m || map.height_m < 0) {
    map.cautions.push_back("the map's height of " + shortest_text(map.height_m) + " m is outside storey '" +
                           storey.name + "', which is " + shortest_text(storey.height_m) + " m high");
  }
  const LevelGrid grid{map.origin, map.step_m, map.columns, map.rows, storey.level_m + map.height_m};
  map.path_loss_db.resize(grid.size());
  if (options.chances) map.sigma_db.resize(grid.size());
  if (map.hubs.size() > 1) map.hub_of.resize(grid.size());
  if (!options.chances && !counts_routes(scene.radio())) {
    add_by_shadows(map, scene, grid, options.threads);
  } else {
    add_by_links(map, scene, grid, options.threads);
  }
  return map;
}

}  // namespace linkmargin
