#include "linkmargin/analysis/coverage/link_map.hpp"

#include "linkmargin/link/building/panel_index.hpp"
#include "linkmargin/link/mechanism/map_plane.hpp"
#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/site/limits.hpp"

#include <algorithm>
#include <memory>
#include <utility>

namespace linkmargin {
namespace {

/// Cells are blended, which an infinite K, without fading, cannot be.
float finite_k_db(double k_db) {
  return static_cast<float>(std::min(k_db, limits::kFadingKDb.max));
}

}  // namespace

bool is_better_hub(const CoverageMap& map, Point2 at, std::size_t later, double later_db, std::size_t before,
                   double before_db) {
  const auto margin_db = [&](const CoverageHub& of, double path_db) {
    return of.level_at_no_loss_dbm - map.total_loss_db(of, at, path_db) - of.sensitivity_dbm;
  };
  return margin_db(map.hubs[later], later_db) > margin_db(map.hubs[before], before_db);
}

LinkMap::LinkMap(CoverageMap& map, const Site& site, std::size_t storey, const Scene& scene,
                 const ParameterSpread& spread, const ShadowingRegression& nearby, Stations stations)
    : map_(map),
      site_(site),
      scene_(scene),
      spread_(spread),
      nearby_(nearby),
      stations_(std::move(stations)) {
  const Point2 size{map.columns * map.step_m, map.rows * map.step_m};
  const auto plane =
      counts_diffraction(scene.radio())  // else there are no ways round to bound
          ? std::make_shared<const MapPlane>(scene, Box2{map.origin, map.origin + size}, map.z_m, map.step_m)
          : nullptr;
  const auto of_map = [&](HubEndpoint& end) {
    end.from = std::make_shared<const LinkEndpoint>(scene, end.at, plane);
  };
  std::ranges::for_each(stations_.hubs, of_map);
  for (RepeaterEndpoint& repeater : stations_.repeaters) of_map(repeater.hears);
  carried_.profile = map.profile;
  carried_.place = {storey, {}, map.height_m};
  for (const CoverageHub& hub : map.hubs)
    number_.emplace(hub.name, static_cast<std::uint16_t>(number_.size()));
  if (!stations_.repeaters.empty()) return;
  for (const CoverageHub& hub : map.hubs) endpoints_.emplace_back(scene, hub.at, plane);
}

/// As `check` has it, for where repeaters serve too.
MapCell LinkMap::by_best_way(Point2 at) const {
  Device carried = carried_;
  carried.place.at = at;
  const Link link = predicted_serving_link(site_, carried, stations_, map_.fading_model);
  MapCell cell{.path_loss_db = static_cast<float>(link.loss.path_loss_db),
               .hub = number_.at(link.heard_by())};
  if (!nearby_.empty()) cell.local_db = static_cast<float>(link.loss.sigma_db);
  if (!map_.sigma_db.empty()) {
    cell.sigma_db = static_cast<float>(spread_db(cell.hub, at, link.loss));
    cell.k_db = finite_k_db(link.k_db);
    if (link.onward && link.own_probability > 0)
      cell.onward = static_cast<float>(link.pass_probability / link.own_probability);
  }
  return cell;
}

MapCell LinkMap::by_hub(Point2 at) const {
  MapCell best;
  double best_shift_db = 0;
  for (std::size_t hub = 0; hub < endpoints_.size(); ++hub) {
    const LossBreakdown loss = path_loss(endpoints_[hub], at_height(at));
    MapCell cell{.path_loss_db = static_cast<float>(loss.path_loss_db),
                 .hub = static_cast<std::uint16_t>(hub)};
    if (!nearby_.empty()) cell.local_db = static_cast<float>(loss.sigma_db);
    const double shift_db = endpoints_.size() > 1 ? nearby_shift_db(at, cell) : 0;
    if (hub > 0 && !is_better_hub(map_, at, hub, cell.path_loss_db - shift_db, best.hub,
                                  best.path_loss_db - best_shift_db))
      continue;
    if (!map_.sigma_db.empty()) {
      cell.sigma_db = static_cast<float>(spread_db(hub, at, loss));
      cell.k_db = finite_k_db(map_.fading_model.k_db(loss));
    }
    best = cell;
    best_shift_db = shift_db;
  }
  return best;
}

bool LinkMap::parted(const Box2& block) const {
  const auto crossed = [&](Segment2 diagonal) {
    std::vector<std::uint32_t> found;
    scene_.panel_index().crossings(diagonal, map_.z_m, map_.z_m, found);
    return std::ranges::any_of(found, [&](std::uint32_t position) {
      const Panel& panel = scene_.panels()[position];
      return !panel.beyond && stands_at(panel.bottom_m, panel.top_m);
    });
  };
  const auto stands_in = [&](const ObstaclePrism& obstacle) {
    return stands_at(obstacle.bottom_m, obstacle.top_m) && obstacle.box.meets(block);
  };
  return crossed({block.min, block.max}) ||
         crossed({{block.min.x, block.max.y}, {block.max.x, block.min.y}}) ||
         std::ranges::any_of(scene_.obstacles(), stands_in) || nearby_.any_in(block);
}

void LinkMap::put(std::size_t cell, const MapCell& value) const {
  map_.path_loss_db[cell] = value.path_loss_db;
  const Point2 at = map_.centre(cell);
  if (!nearby_.empty()) map_.nearby_shift_db[cell] = static_cast<float>(nearby_shift_db(at, value));
  if (!map_.sigma_db.empty()) {
    const LocalMean mean = nearby_.at(at_height(at), map_.hubs[value.hub].at, value.sigma_db, value.local_db);
    map_.sigma_db[cell] = static_cast<float>(mean.sigma_db);
    map_.k_db[cell] = value.k_db;
  }
  if (!map_.onward_probability.empty()) map_.onward_probability[cell] = value.onward;
  if (!map_.hub_of.empty()) map_.hub_of[cell] = value.hub;
}

double LinkMap::nearby_shift_db(Point2 at, const MapCell& cell) const {
  return nearby_.shift_db(at_height(at), map_.hubs[cell.hub].at, cell.local_db);
}

/// Of the level in the weaker direction without readings near by, as `check` has it.
double LinkMap::spread_db(std::size_t hub, Point2 at, const LossBreakdown& loss) const {
  const CoverageHub& of = map_.hubs[hub];
  const double level_dbm = of.level_at_no_loss_dbm - map_.total_loss_db(of, at, loss.path_loss_db);
  return spread_.sigma_db(loss, Dbm{level_dbm});
}

}  // namespace linkmargin
