#include "linkmargin/prediction/area_cover.hpp"

#include "linkmargin/base/parallel.hpp"
#include "linkmargin/base/range.hpp"
#include "linkmargin/link/fading_model.hpp"
#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/link/radio/metal_mount.hpp"
#include "linkmargin/prediction/serving/serving.hpp"

#include <algorithm>
#include <cmath>
#include <span>

namespace linkmargin {

std::vector<Point2> sample_points(const Polygon2& corners, double step_m) {
  const Box2 box = bounding_box(corners);
  const double width = box.max.x - box.min.x;
  const double depth = box.max.y - box.min.y;
  const double step = std::max(step_m, std::sqrt(width * depth / kMaxAreaPoints));
  const int columns = std::max(1, static_cast<int>(width / step));
  const int rows = std::max(1, static_cast<int>(depth / step));
  std::vector<Point2> points;
  for (int row = 0; row < rows; ++row) {
    for (int column = 0; column < columns; ++column) {
      const Point2 p =
          snapped({box.min.x + (column + 0.5) * width / columns, box.min.y + (row + 0.5) * depth / rows});
      if (contains(corners, p)) points.push_back(p);
    }
  }
  if (points.empty()) points.push_back(snapped(label_point(corners)));
  return points;
}

std::vector<Point2> edge_points(const Polygon2& corners, double step_m) {
  double outline_m = 0;
  for (const Segment2& side : edges(corners)) outline_m += distance(side.a, side.b);
  const int count = static_cast<int>(std::clamp(std::ceil(outline_m / step_m), 1.0, 1.0 * kMaxEdgePoints));
  const double apart_m = outline_m / count;
  std::vector<Point2> points;
  double next_m = apart_m / 2;  // from the start of the side
  for (const Segment2& side : edges(corners)) {
    const double length_m = distance(side.a, side.b);
    for (; next_m < length_m && static_cast<int>(points.size()) < count; next_m += apart_m) {
      const double along = next_m / length_m;
      points.push_back(snapped({std::lerp(side.a.x, side.b.x, along), std::lerp(side.a.y, side.b.y, along)}));
    }
    next_m -= length_m;
  }
  if (points.empty()) points.push_back(snapped(corners.front()));
  return points;
}

namespace {

/// Of what a bearer's body takes, over the directions that he may face; the profile's body loss is the mean.
/// Ahead comes 6 to 12 dB more than behind (three hand-held phones at 58 places, each faced both ways:
/// Mendoza-Silva and others, Data 4 (2019) 12), of a cosine so much 2 to 4 dB one deviation.
constexpr double kFacingSigmaDb = 3;

/// What one hub gives to some points.
struct Cover {
  double share_percent = 0;
  double worst_percent = 100;
};

/// What each of some hubs gives. Point by point: what a point has of its own is found once.
std::vector<Cover> covers_of(std::span<const HubEndpoint* const> hubs, const RadioEnd& remote,
                             const std::vector<Point2>& points, double z_m, const ReadingScale& scale,
                             const FadingModel& fading_model, int threads) {
  std::vector<double> chances(points.size() * hubs.size());
  std::vector<double> readings(chances.size());
  parallel_for(points.size(), threads, [&](std::size_t i) {
    const Point3 at{points[i].x, points[i].y, z_m};
    for (std::size_t k = 0; k < hubs.size(); ++k) {
      const HubEndpoint& hub = *hubs[k];
      const LossBreakdown loss = hub.path_loss(at);
      auto up = link_budget(remote, towards(hub.radio, hub.at, at), loss.path_loss_db, scale);
      if (!up) throw DomainError("a remote that does not transmit, or a hub that does not receive");
      LocalMean mean = hub.local_mean(at, loss, up->level);
      if (remote.body_loss_db > 0) mean.sigma_db = std::hypot(mean.sigma_db, kFacingSigmaDb);
      shift(*up, BudgetTerm::nearby_readings, mean.shift_db, scale);
      chances[k * points.size() + i] =
          fading_model.chance(up->level, needed_level(scale, *up), mean.sigma_db, fading_model.k_db(loss));
      readings[k * points.size() + i] = up->reading_percent;
    }
  });
  std::vector<Cover> covers;
  for (std::size_t k = 0; k < hubs.size(); ++k) {
    const auto of_hub = [&](const std::vector<double>& all) {
      return std::span(all).subspan(k * points.size(), points.size());
    };
    double sum = 0;
    for (const double chance : of_hub(chances)) sum += chance;
    covers.push_back({100 * sum / static_cast<double>(points.size()),
                      std::min(100.0, std::ranges::min(of_hub(readings)))});
  }
  return covers;
}

/// What may serve an area: a hub, or a repeater with its way on.
struct Candidate {
  const HubEndpoint* hears;
  const Link* onward;  ///< null: a hub
};

}  // namespace

AreaCover area_cover(const Site& site, const Area& area, const Stations& stations,
                     const FadingModel& fading_model, const AreaCoverOptions& options) {
  const std::vector<Point2> points = sample_points(area.corners, options.step_m);
  const double z_m = site.storeys[area.storey].level_m + area.height_m;
  const RadioEnd remote = radio_end(site.profiles.at(area.profile));
  const auto covers_at = [&](std::span<const HubEndpoint* const> hubs, const std::vector<Point2>& spots) {
    return covers_of(hubs, remote, spots, z_m, site.reading, fading_model, options.threads);
  };
  const std::vector<HubEndpoint> hubs = candidates(stations.hubs, area.hub);
  std::vector<Candidate> may_serve;
  for (const HubEndpoint& hub : hubs) may_serve.push_back({&hub, nullptr});
  for (const RepeaterEndpoint& repeater : stations.repeaters) {
    const bool may = repeater.serves != RepeaterServes::devices && repeater.hears.radio.sensitivity &&
                     (!area.hub || repeater.onward->hub == *area.hub);
    if (may) may_serve.push_back({&repeater.hears, repeater.onward.get()});
  }
  std::vector<const HubEndpoint*> hear;
  for (const Candidate& one : may_serve) hear.push_back(one.hears);
  const std::vector<Cover> covers = covers_at(hear, points);
  const auto goes_on = [&](std::size_t k) {
    const Link* onward = may_serve[k].onward;
    return onward == nullptr ? 1 : onward->pass_probability;
  };
  std::size_t serving = 0;  // of equals the first
  for (std::size_t k = 1; k < covers.size(); ++k) {
    if (covers[k].share_percent * goes_on(k) > covers[serving].share_percent * goes_on(serving)) serving = k;
  }
  const auto [hears, onward] = may_serve[serving];
  AreaCover best;
  best.hub = onward == nullptr ? hears->name : onward->hub;
  if (onward != nullptr) {
    best.via = onward->via;
    best.via.insert(best.via.begin(), hears->name);
  }
  best.share_percent = covers[serving].share_percent * goes_on(serving);
  best.worst_reading_percent = covers[serving].worst_percent;
  if (options.edge) {
    const Cover edge = covers_at(std::span(&hears, 1), edge_points(area.corners, options.step_m)).front();
    best.edge_share_percent = goes_on(serving) * edge.share_percent;
  }
  best.area = area.name;
  best.wanted_percent = area.share_percent;
  best.weak = best.share_percent < area.share_percent;
  best.points = static_cast<int>(points.size());
  return best;
}

}  // namespace linkmargin
