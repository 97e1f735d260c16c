#include "linkmargin/prediction/area_cover.hpp"

#include "linkmargin/base/parallel.hpp"
#include "linkmargin/base/range.hpp"
#include "linkmargin/link/fading_model.hpp"
#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/link/radio/metal_mount.hpp"
#include "linkmargin/prediction/serving/serving.hpp"

#include <algorithm>
#include <cmath>

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

Cover cover_of(const HubEndpoint& hub, const RadioEnd& remote, const std::vector<Point2>& points, double z_m,
               const ReadingScale& scale, const FadingModel& fading_model, int threads) {
  std::vector<double> chances(points.size());
  std::vector<double> readings(points.size());
  parallel_for(points.size(), threads, [&](std::size_t i) {
    const Point3 at{points[i].x, points[i].y, z_m};
    const LossBreakdown loss = hub.path_loss(at);
    auto up = link_budget(remote, towards(hub.radio, hub.at, at), loss.path_loss_db, scale);
    if (!up) throw DomainError("a remote that does not transmit, or a hub that does not receive");
    LocalMean mean = hub.local_mean(at, loss, up->level);
    if (remote.body_loss_db > 0) mean.sigma_db = std::hypot(mean.sigma_db, kFacingSigmaDb);
    shift(*up, BudgetTerm::nearby_readings, mean.shift_db, scale);
    chances[i] =
        fading_model.chance(up->level, needed_level(scale, *up), mean.sigma_db, fading_model.k_db(loss));
    readings[i] = up->reading_percent;
  });
  double sum = 0;
  for (const double chance : chances) sum += chance;
  return {100 * sum / static_cast<double>(points.size()), std::min(100.0, std::ranges::min(readings))};
}

}  // namespace

AreaCover area_cover(const Site& site, const Area& area, const Stations& stations,
                     const FadingModel& fading_model, const AreaCoverOptions& options) {
  const std::vector<Point2> points = sample_points(area.corners, options.step_m);
  const double z_m = site.storeys[area.storey].level_m + area.height_m;
  const RadioEnd remote = radio_end(site.profiles.at(area.profile));
  const auto cover_at = [&](const HubEndpoint& hub, const std::vector<Point2>& spots) {
    return cover_of(hub, remote, spots, z_m, site.reading, fading_model, options.threads);
  };
  AreaCover best;
  const HubEndpoint* serving = nullptr;
  double onward = 1;
  const auto take = [&](const HubEndpoint& hears, const Link* way) {
    const double goes_on = way == nullptr ? 1 : way->pass_probability;
    Cover cover = cover_at(hears, points);
    cover.share_percent *= goes_on;
    if (serving != nullptr && cover.share_percent <= best.share_percent) return;
    serving = &hears;
    onward = goes_on;
    best.hub = way == nullptr ? hears.name : way->hub;
    best.via.clear();
    if (way != nullptr) {
      best.via = way->via;
      best.via.insert(best.via.begin(), hears.name);
    }
    best.share_percent = cover.share_percent;
    best.worst_reading_percent = cover.worst_percent;
  };
  const std::vector<HubEndpoint> hubs = candidates(stations.hubs, area.hub);
  for (const HubEndpoint& hub : hubs) take(hub, nullptr);
  for (const RepeaterEndpoint& repeater : stations.repeaters) {
    const bool may = repeater.serves != RepeaterServes::devices && repeater.hears.radio.sensitivity &&
                     (!area.hub || repeater.onward->hub == *area.hub);
    if (may) take(repeater.hears, repeater.onward.get());
  }
  if (options.edge) {
    const Cover edge = cover_at(*serving, edge_points(area.corners, options.step_m));
    best.edge_share_percent = onward * edge.share_percent;
  }
  best.area = area.name;
  best.wanted_percent = area.share_percent;
  best.weak = best.share_percent < area.share_percent;
  best.points = static_cast<int>(points.size());
  return best;
}

}  // namespace linkmargin
