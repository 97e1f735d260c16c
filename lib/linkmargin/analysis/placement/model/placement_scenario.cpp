#include "linkmargin/analysis/placement/model/placement_scenario.hpp"

#include "linkmargin/link/mechanism/detours.hpp"
#include "linkmargin/link/mechanism/distance_model.hpp"
#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/link/radio/metal_mount.hpp"
#include "linkmargin/link/radio/noise_rise.hpp"
#include "linkmargin/prediction/area_cover.hpp"
#include "linkmargin/prediction/serving/hub_endpoint.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/site/site_radios.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

constexpr double kAreaStepM = 0.5;
constexpr std::size_t kLinksBetweenQuestions = 64;

/// Tables hold spreads up to this: beyond, chances are calculated.
constexpr double kMostTabledSigmaDb = 16;

double turned_metal_db(const RadioEnd& radio, Point3 at, Point3 far_end) {
  return radio.metal ? metal_loss_db(*radio.metal, at, far_end) : 0;
}

bool is_turned(const RadioEnd& radio) {
  return radio.metal && radio.metal->faces_deg;
}

/// Two radios where nothing is lost on the way, their metal apart.
struct LevelAtNoLoss {
  double lack_db = 0;    ///< of what is needed, in the direction that lacks more
  double level_dbm = 0;  ///< of the direction with the smaller margin
};

/// @return nothing where they cannot talk
std::optional<LevelAtNoLoss> level_at_no_loss(FarEnd end, RadioEnd hub, const ReadingScale& scale) {
  end.radio.metal_loss_db = 0;
  hub.metal_loss_db = 0;
  const auto ways = two_way_budget(end.radio, hub, 0, scale);
  if (!ways) return {};
  const auto lack = [&](const LinkBudget& way) { return (needed_level(scale, way) - way.level).value; };
  const double up_db = lack(ways->uplink);
  if (!end.answered || !ways->downlink) return LevelAtNoLoss{up_db, ways->uplink.level.value};
  const LinkBudget& weaker = ways->weaker_is_downlink ? *ways->downlink : ways->uplink;
  return LevelAtNoLoss{std::max(up_db, lack(*ways->downlink)), weaker.level.value};
}

/// Where on the scale a level reads, 0 to 1.
double share_of(const ReadingScale& scale, double level_dbm) {
  return std::clamp((level_dbm - scale.zero.value) / (scale.full - scale.zero).value, 0.0, 1.0);
}

FarEnd end_of_device(const Site& site, const Device& device) {
  return {site.point(device.place), device_radio(site, device), true};
}

HubRadio end_at(const Site& site, Hub hub, const Placement& place) {
  put_station(hub, place);
  return hub_radio(site, hub);
}

}  // namespace

PlacementScenario::PlacementScenario(const PlacementCase& of)
    : site_(of.site),
      scene_(*of.scene),
      fading_model_(of.site.fading),
      spread_(of.site),
      least_sigma_db_(std::min(distance_term(scene_.radio(), 1, {}, false).sigma_db,
                               distance_term(scene_.radio(), 1, {}, true).sigma_db)),
      tables_(fading_model_, least_sigma_db_, std::max(least_sigma_db_, kMostTabledSigmaDb)) {}

std::vector<FarEnd> PlacementScenario::ends(std::size_t item) const {
  if (item < site_.devices.size()) return {end_of_device(site_, site_.devices[item])};
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

FarEnd PlacementScenario::end_of(const Hub& repeater, const Placement& place) const {
  Device device;
  device.name = repeater.name;
  device.profile = repeater.profile;
  device.place = place;
  if (!leaves_mount(repeater.place, place)) device.mount = repeater.mount;
  return end_of_device(site_, device);
}

bool PlacementScenario::diffracts() const {
  return counts_diffraction(scene_.radio());
}

void PlacementScenario::find_losses(Point3 from, const PlacementPlaces& places, WayMemory& memory) const {
  memory.ways.resize(places.points.size());
  memory.spreads.resize(spread_.empty() ? 0 : places.points.size());
  const LinkEndpoint endpoint(scene_, from);
  for (std::size_t i = 0; i < places.points.size(); ++i) {
    if (i % kLinksBetweenQuestions == 0 && memory.stop && memory.stop()) return;
    find_loss(endpoint, site_.point(places.points[i]), i, memory);
  }
}

void PlacementScenario::find_loss(const LinkEndpoint& endpoint, Point3 to, std::size_t i,
                                  WayMemory& memory) const {
  const LossBreakdown loss = path_loss(endpoint, to);
  memory.ways[i] = {static_cast<float>(loss.path_loss_db), static_cast<float>(loss.sigma_db),
                    static_cast<float>(std::min(fading_model_.k_db(loss), limits::kFadingKDb.max))};
  if (spread_.empty()) return;
  const double none =
      spread_.variance_db2(loss, 0);  // a square of what is linear in the share: three values tell all
  const double half = spread_.variance_db2(loss, 0.5);
  const double full = spread_.variance_db2(loss, 1);
  memory.spreads[i] = {static_cast<float>(none), static_cast<float>(4 * half - 3 * none - full),
                       static_cast<float>(2 * (none + full - 2 * half))};
}

float PlacementScenario::calculated(double lack_db, const WayLoss& way) const {
  const auto sigma_db = static_cast<double>(way.sigma_db);
  return static_cast<float>(
      fading_model_.chance(Dbm{0}, Dbm{lack_db}, sigma_db, static_cast<double>(way.k_db)));
}

float PlacementScenario::looked_up(float lack_db, const WayLoss& way) const {
  if (way.sigma_db > static_cast<float>(kMostTabledSigmaDb) ||
      way.sigma_db < static_cast<float>(least_sigma_db_))
    return calculated(static_cast<double>(lack_db), way);
  return tables_.chance(lack_db, way.sigma_db, way.k_db);
}

void PlacementScenario::add_chances(const FarEnd& end, const Hub& radio, const PlacementPlaces& places,
                                    std::span<const std::uint32_t> points, const WayMemory& memory,
                                    bool exact, std::span<float> sums) const {
  if (points.empty()) return;
  const HubRadio hub = hub_radio(site_, radio);
  const auto at_no_loss = level_at_no_loss(end, hub.radio, site_.reading);
  if (!at_no_loss) return;
  const bool turned = is_turned(end.radio) || radio.mount.has_value();
  const double steady_db = turned ? 0 : end.radio.metal_loss_db;
  if (turned || exact || !memory.spreads.empty()) {
    for (std::size_t p = 0; p < points.size(); ++p) {
      WayLoss way = memory.ways[points[p]];
      const Placement& place = places.points[points[p]];
      const Point3 at = site_.point(place);
      const double own_db = leaves_mount(radio.place, place) ? 0 : turned_metal_db(hub.radio, at, end.at);
      const double metal_db = turned ? turned_metal_db(end.radio, end.at, at) + own_db : steady_db;
      const double lost_db = metal_db + static_cast<double>(way.loss_db);
      if (!memory.spreads.empty()) {
        const double share = share_of(site_.reading, at_no_loss->level_dbm - lost_db);
        const float more = memory.spreads[points[p]].variance(static_cast<float>(share));
        way.sigma_db = std::sqrt(way.sigma_db * way.sigma_db + std::max(0.0F, more));
      }
      sums[p] += calculated(at_no_loss->lack_db + lost_db, way);
    }
    return;
  }
  const auto lack_db = static_cast<float>(at_no_loss->lack_db + steady_db);
  for (std::size_t p = 0; p < points.size(); ++p) {
    const WayLoss& way = memory.ways[points[p]];
    sums[p] += looked_up(lack_db + way.loss_db, way);
  }
}

float PlacementScenario::chance(const FarEnd& end, const Hub& radio, const Placement& place,
                                const LinkEndpoint& from, double gain_db) const {
  const HubRadio hub = end_at(site_, radio, place);
  const auto at_no_loss = level_at_no_loss(end, hub.radio, site_.reading);
  if (!at_no_loss) return 0;
  const LossBreakdown loss = path_loss(from, snapped_in_plan(hub.at) == from.at() ? end.at : hub.at);
  const double metal_db =
      turned_metal_db(end.radio, end.at, hub.at) + turned_metal_db(hub.radio, hub.at, end.at);
  const double lost_db = metal_db + loss.path_loss_db;
  const double sigma_db = spread_.sigma_db(loss, Dbm{at_no_loss->level_dbm - lost_db});
  return static_cast<float>(fading_model_.chance(Dbm{gain_db}, Dbm{at_no_loss->lack_db + lost_db}, sigma_db,
                                                 fading_model_.k_db(loss)));
}

}  // namespace linkmargin
