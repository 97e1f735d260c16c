#include "linkmargin/analysis/placement_chances.hpp"

#include "linkmargin/analysis/area_cover.hpp"
#include "linkmargin/analysis/chance_table.hpp"
#include "linkmargin/analysis/hub_end.hpp"
#include "linkmargin/analysis/parallel.hpp"
#include "linkmargin/link/distance_model.hpp"
#include "linkmargin/link/metal_mount.hpp"
#include "linkmargin/link/noise_rise.hpp"
#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/link/routes.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <mutex>
#include <optional>

namespace linkmargin {
namespace {

constexpr double kAreaStepM = 0.5;
constexpr std::size_t kMostHopRows = 3000;
constexpr std::size_t kMostVantages = 400;

/// One end of links: a device, or a sample point of an area.
struct FarEnd {
  Point3 at;
  RadioEnd radio;        ///< with its metal, not turned
  bool answered = true;  ///< the downlink counts too
};

double turned_metal_db(const RadioEnd& radio, Point3 at, Point3 far_end) {
  return radio.metal ? metal_loss_db(*radio.metal, at, far_end) : 0;
}

bool is_turned(const RadioEnd& radio) {
  return radio.metal && radio.metal->faces_deg;
}

/// What a hub's level lacks where nothing is lost on the way, both radios' metal apart; nothing where they
/// cannot talk.
std::optional<double> lack_at_no_loss_db(FarEnd end, RadioEnd hub, const ReadingScale& scale) {
  end.radio.metal_loss_db = 0;
  hub.metal_loss_db = 0;
  const auto ways = both_ways(end.radio, hub, 0, scale);
  if (!ways) return {};
  const auto lack = [&](const Direction& way) { return (needed_level(scale, way) - way.level).value; };
  const double up_db = lack(ways->uplink);
  return end.answered && ways->downlink ? std::max(up_db, lack(*ways->downlink)) : up_db;
}

FarEnd end_of(const Site& site, const Device& device) {
  RadioEnd radio = in_noise(radio_end(site.profiles.at(device.profile), device), site.radio);
  return {site.point(device.place), on_mount(radio, device.mount, site.radio.frequency_hz), true};
}

Device as_device(const Hub& repeater, const Placement& place) {
  Device device{.name = repeater.name, .profile = repeater.profile, .place = place};
  device.mount = repeater.mount;
  return device;
}

HubEnd end_at(const Site& site, Hub hub, const Placement& place) {
  hub.place = place;
  return hub_end(site, hub);
}

/// What the way to a place loses.
struct WayLoss {
  float loss_db = 0;
  float sigma_db = 0;
  std::uint8_t in_sight = 0;
};

}  // namespace

/// One case made ready.
class PlacementChances::World {
 public:
  explicit World(const PlacementCase& of)
      : site_(of.site), scene_(*of.scene), straight_(scene_), reliability_(of.site.fading) {
    const double least_db = distance_term(scene_.radio(), 1, {}, true).sigma_db;
    const double behind_db = distance_term(scene_.radio(), 1, {}, false).sigma_db;
    least_sigma_db_ = std::min({least_db, behind_db, kLocalMeanSigmaDb.max});
  }

  const Site& site() const { return site_; }
  const Scene& scene() const { return scene_; }
  bool casts() const { return !counts_routes(scene_.radio()) && straight_.casts_shadows({0, 0, 0}, 0); }

  /// The ends of an item's links.
  std::vector<FarEnd> ends(std::size_t item) const {
    if (item < site_.devices.size()) return {end_of(site_, site_.devices[item])};
    const Area& area = site_.areas[item - site_.devices.size()];
    const Box2 box = bounding_box(area.corners);
    const Point2 size = box.max - box.min;
    const double step_m = std::max(kAreaStepM, std::sqrt(size.x * size.y / kPlacementAreaPoints));
    const double z_m = site_.storeys[area.storey].level_m + area.height_m;
    std::vector<FarEnd> ends;
    for (const Point2 at : sample_points(area.corners, step_m))
      ends.push_back({{at.x, at.y, z_m}, radio_end(site_.profiles.at(area.profile)), false});
    return ends;
  }

  /// What the ways from one point to some places lose.
  std::vector<WayLoss> losses(Point3 from, const PlacementPlaces& places,
                              const std::vector<std::uint32_t>& points) const {
    std::vector<WayLoss> found(points.size());
    std::optional<Vantage> vantage;
    std::vector<std::vector<float>> loss_db(places.levels.size());
    std::vector<std::vector<float>> sigma_db(places.levels.size());
    std::vector<std::vector<std::uint8_t>> in_sight(places.levels.size());
    for (std::size_t i = 0; i < points.size(); ++i) {
      const PlacePoint& point = places.points[points[i]];
      if (point.level >= 0 && casts()) {
        const auto level = static_cast<std::size_t>(point.level);
        const LevelGrid& grid = places.levels[level].grid;
        if (loss_db[level].empty()) {
          loss_db[level].resize(grid.size());
          sigma_db[level].resize(grid.size());
          in_sight[level].resize(grid.size());
          straight_.find(from, grid, 1, loss_db[level], {sigma_db[level], in_sight[level]});
        }
        found[i] = {loss_db[level][point.cell], sigma_db[level][point.cell], in_sight[level][point.cell]};
        continue;
      }
      if (!vantage) vantage.emplace(scene_, from);
      found[i] = one(*vantage, site_.point(point.place));
    }
    return found;
  }

  WayLoss one(const Vantage& vantage, Point3 to) const {
    const LossBreakdown loss = path_loss(vantage, to);
    return {static_cast<float>(loss.path_loss_db), static_cast<float>(loss.sigma_db),
            static_cast<std::uint8_t>(loss.in_sight ? 1 : 0)};
  }

  float chance(double lack_db, const WayLoss& way, bool exact) const {
    if (exact)
      return static_cast<float>(
          reliability_.chance(Dbm{0}, Dbm{lack_db}, static_cast<double>(way.sigma_db), way.in_sight != 0));
    std::call_once(tabled_, [&] {
      tables_.emplace_back(reliability_, false, least_sigma_db_, kLocalMeanSigmaDb.max);
      tables_.emplace_back(reliability_, true, least_sigma_db_, kLocalMeanSigmaDb.max);
    });
    return tables_[way.in_sight].chance(static_cast<float>(lack_db), way.sigma_db);
  }

  /// The chance of an end with a radio at a place, over a way.
  float chance(const FarEnd& end, const Hub& radio, const Placement& place, const WayLoss& way,
               double gain_db = 0) const {
    const HubEnd hub = end_at(site_, radio, place);
    const auto lack_db = lack_at_no_loss_db(end, hub.radio, site_.reading);
    if (!lack_db) return 0;
    const double metal_db =
        turned_metal_db(end.radio, end.at, hub.at) + turned_metal_db(hub.radio, hub.at, end.at);
    return chance(*lack_db + metal_db + static_cast<double>(way.loss_db) - gain_db, way, true);
  }

 private:
  const Site& site_;
  const Scene& scene_;
  StraightMap straight_;
  Reliability reliability_;
  double least_sigma_db_ = 0;
  mutable std::once_flag tabled_;
  mutable std::vector<ChanceTable> tables_;
};

/// The chances between repeaters and hubs, found when asked for.
class PlacementChances::Hops {
 public:
  Hops(const PlacementChances& chances, const PlacementPlaces& places) : chances_(chances), places_(places) {}

  float get(PlacementPart repeater, PlacementPart to) {
    if (const auto row = rows_.find({0, repeater.group, repeater.place, to.group}); row != rows_.end())
      return row->second[to.place];
    if (const auto row = rows_.find({1, to.group, to.place, repeater.group}); row != rows_.end())
      return row->second[repeater.place];
    if (chances_.worlds_.front()->casts()) {
      if (rows_.size() > kMostHopRows) rows_.clear();
      rows_[{0, repeater.group, repeater.place, to.group}] = row(repeater, to.group, true);
      rows_[{1, to.group, to.place, repeater.group}] = row(to, repeater.group, false);
      return rows_.at({0, repeater.group, repeater.place, to.group})[to.place];
    }
    const auto [known, is_new] = single_.try_emplace({repeater, to}, 0.0F);
    if (is_new) known->second = single(repeater, to);
    return known->second;
  }

 private:
  const Hub& radio(std::uint32_t group) const { return places_.groups[group].radios.front().radio; }
  const Placement& place(PlacementPart part) const { return places_.point(part).place; }

  /// From one part to every place of a group.
  std::vector<float> row(PlacementPart from, std::uint32_t group, bool from_repeater) const {
    const std::vector<std::uint32_t>& points = places_.groups[group].points;
    std::vector<float> least(points.size(), 1);
    for (const auto& world : chances_.worlds_) {
      const auto ways = world->losses(world->site().point(place(from)), places_, points);
      for (std::size_t p = 0; p < points.size(); ++p) {
        const PlacementPart other{group, static_cast<std::uint32_t>(p)};
        const PlacementPart repeater = from_repeater ? from : other;
        const PlacementPart to = from_repeater ? other : from;
        least[p] = std::min(least[p], chance(*world, repeater, to, ways[p]));
      }
    }
    return least;
  }

  float chance(const World& world, PlacementPart repeater, PlacementPart to, const WayLoss& way) const {
    const FarEnd end = end_of(world.site(), as_device(radio(repeater.group), place(repeater)));
    return world.chance(end, radio(to.group), place(to), way);
  }

  float single(PlacementPart repeater, PlacementPart to) {
    float least = 1;
    for (std::size_t w = 0; w < chances_.worlds_.size(); ++w) {
      const World& world = *chances_.worlds_[w];
      if (vantages_.size() > kMostVantages) vantages_.clear();
      auto [vantage, is_new] = vantages_.try_emplace({w, to}, nullptr);
      if (is_new) vantage->second = std::make_unique<Vantage>(world.scene(), world.site().point(place(to)));
      least = std::min(least, chance(world, repeater, to,
                                     world.one(*vantage->second, world.site().point(place(repeater)))));
    }
    return least;
  }

  const PlacementChances& chances_;
  const PlacementPlaces& places_;
  std::map<std::array<std::uint32_t, 4>, std::vector<float>> rows_;
  std::map<std::pair<PlacementPart, PlacementPart>, float> single_;
  std::map<std::pair<std::size_t, PlacementPart>, std::unique_ptr<Vantage>> vantages_;
};

PlacementChances::PlacementChances(const std::vector<PlacementCase>& cases) {
  for (const PlacementCase& of : cases) worlds_.push_back(std::make_unique<const World>(of));
}

PlacementChances::~PlacementChances() = default;

std::size_t PlacementChances::links(std::size_t places) const {
  std::size_t ends = 0;
  for (const auto& world : worlds_) {
    if (world->casts()) continue;
    for (std::size_t item = 0; item < world->site().devices.size() + world->site().areas.size(); ++item)
      ends += world->ends(item).size();
  }
  return ends * places;
}

double PlacementChances::link_cost() const {
  double most = 0;
  for (const auto& world : worlds_)
    most = std::max(most, static_cast<double>(world->scene().panels().size()));
  return std::max(1.0, most * most / 1e4);
}

std::vector<PlacementItem> PlacementChances::items(const PlacementPlaces& places) const {
  const Site& site = worlds_.front()->site();
  std::vector<PlacementItem> items;
  const auto add = [&](const auto& served) {
    PlacementItem item{served.slots, site.profiles.at(served.profile).device_class, {}};
    for (std::uint32_t g = 0; served.hub && g < places.groups.size(); ++g) {
      for (const PlacedRadio& radio : places.groups[g].radios) {
        if (!radio.repeater && radio.radio.name == *served.hub) item.hub = g;
      }
    }
    if (served.hub && !item.hub)
      throw DomainError("hub '" + *served.hub + "' serves '" + served.name + "': it cannot be left out");
    items.push_back(std::move(item));
  };
  for (const Device& device : site.devices) add(device);
  for (const Area& area : site.areas) add(area);
  return items;
}

double PlacementChances::chance(std::size_t item, const Hub& radio, const Placement& place,
                                double gain_db) const {
  double least = 1;
  for (const auto& world : worlds_) {
    const Vantage vantage(world->scene(), world->site().point(place));
    double sum = 0;
    const std::vector<FarEnd> ends = world->ends(item);
    for (const FarEnd& end : ends)
      sum += static_cast<double>(world->chance(end, radio, place, world->one(vantage, end.at), gain_db));
    least = std::min(least, sum / static_cast<double>(ends.size()));
  }
  return least;
}

double PlacementChances::hop_chance(const Hub& repeater, const Placement& place, const Hub& to,
                                    const Placement& to_place, double gain_db) const {
  double least = 1;
  for (const auto& world : worlds_) {
    const Vantage vantage(world->scene(), world->site().point(to_place));
    const FarEnd end = end_of(world->site(), as_device(repeater, place));
    const float chance = world->chance(end, to, to_place, world->one(vantage, end.at), gain_db);
    least = std::min(least, static_cast<double>(chance));
  }
  return least;
}

PlacementProblem PlacementChances::problem(const PlacementPlaces& places, int threads,
                                           const ProgressCall& progress, const StopCall& stop) const {
  PlacementProblem problem;
  problem.items = items(places);
  const Site& site = worlds_.front()->site();
  for (const PlaceGroup& group : places.groups) {
    const PlacedRadio& radio = group.radios.front();
    problem.groups.push_back({.repeater = radio.repeater,
                              .count = static_cast<int>(group.radios.size()),
                              .places = group.points.size(),
                              .chances = std::vector<float>(problem.items.size() * group.points.size(), 0),
                              .slots = radio.radio.capacity,
                              .device_class = site.profiles.at(radio.radio.profile).device_class});
  }
  Progress steps(progress, problem.items.size());
  parallel_for(problem.items.size(), threads, [&](std::size_t item) {
    if (stop && stop()) return;
    std::vector<float*> rows;
    for (PlacementGroup& group : problem.groups) rows.push_back(group.chances.data() + item * group.places);
    fill(places, item, rows);
    steps.step();
  });
  problem.hop = [hops = std::make_shared<Hops>(*this, places)](PlacementPart repeater, PlacementPart to) {
    return hops->get(repeater, to);
  };
  return problem;
}

void PlacementChances::fill(const PlacementPlaces& places, std::size_t item,
                            const std::vector<float*>& rows) const {
  std::vector<std::uint32_t> points;
  for (std::uint32_t p = 0; p < places.points.size(); ++p) points.push_back(p);
  const std::size_t count = worlds_.front()->site().devices.size() + worlds_.front()->site().areas.size();
  const bool exact = count * places.points.size() <= kExactChances;
  std::vector<float> sums;
  for (std::size_t w = 0; w < worlds_.size(); ++w) {
    const World& world = *worlds_[w];
    const std::vector<FarEnd> ends = world.ends(item);
    std::vector<std::vector<WayLoss>> ways;
    for (const FarEnd& end : ends) ways.push_back(world.losses(end.at, places, points));
    for (std::size_t g = 0; g < places.groups.size(); ++g) {
      const PlaceGroup& group = places.groups[g];
      const Hub& radio = group.radios.front().radio;
      sums.assign(group.points.size(), 0);
      if (group.points.empty()) continue;
      const HubEnd hub = end_at(world.site(), radio, places.points[group.points.front()].place);
      for (std::size_t e = 0; e < ends.size(); ++e) {
        const FarEnd& end = ends[e];
        const auto lack = lack_at_no_loss_db(end, hub.radio, world.site().reading);
        if (!lack) continue;
        const bool turned = is_turned(end.radio) || is_turned(hub.radio);
        const double lack_db = *lack + (turned ? 0 : end.radio.metal_loss_db + hub.radio.metal_loss_db);
        for (std::size_t p = 0; p < group.points.size(); ++p) {
          const WayLoss& way = ways[e][group.points[p]];
          double total_db = lack_db + static_cast<double>(way.loss_db);
          if (turned) {
            const Point3 at = world.site().point(places.points[group.points[p]].place);
            total_db += turned_metal_db(end.radio, end.at, at) + turned_metal_db(hub.radio, at, end.at);
          }
          sums[p] += world.chance(total_db, way, exact);
        }
      }
      const auto share = 1 / static_cast<float>(ends.size());
      for (std::size_t p = 0; p < sums.size(); ++p) {
        const float chance = sums[p] * share;
        rows[g][p] = w == 0 ? chance : std::min(rows[g][p], chance);
      }
    }
  }
}

}  // namespace linkmargin
