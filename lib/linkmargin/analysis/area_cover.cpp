#include "linkmargin/analysis/area_cover.hpp"

#include "linkmargin/base/range.hpp"
#include "linkmargin/link/metal_mount.hpp"
#include "linkmargin/link/reliability.hpp"

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

namespace {

/// What one hub gives an area.
struct Cover {
  double share_percent = 0;
  double worst_percent = 100;
};

Cover cover_of(const Scene& scene, const HubEnd& hub, const RadioEnd& remote,
               const std::vector<Point2>& points, double z_m, const ReadingScale& scale) {
  Cover cover;
  double sum = 0;
  for (const Point2 p : points) {
    const Point3 at{p.x, p.y, z_m};
    const LossBreakdown loss = path_loss(scene, at, hub.at);
    const auto up = direction(remote, towards(hub.radio, hub.at, at), loss.path_loss_db, scale);
    if (!up) throw DomainError("a remote that does not transmit, or a hub that does not receive");
    sum += pass_probability(up->level, needed_level(scale, *up), loss.sigma_db);
    cover.worst_percent = std::min(cover.worst_percent, up->reading_percent);
  }
  cover.share_percent = 100 * sum / static_cast<double>(points.size());
  return cover;
}

}  // namespace

AreaCover area_cover(const Site& site, const Area& area, const Scene& scene, std::span<const HubEnd> hubs,
                     double step_m) {
  const std::vector<Point2> points = sample_points(area.corners, step_m);
  const double z_m = site.storeys[area.storey].level_m + area.height_m;
  const RadioEnd remote = radio_end(site.profiles.at(area.profile));
  AreaCover best;
  for (const HubEnd& hub : hubs) {
    const Cover cover = cover_of(scene, hub, remote, points, z_m, site.reading);
    if (!best.hub.empty() && cover.share_percent <= best.share_percent) continue;
    best.hub = hub.name;
    best.share_percent = cover.share_percent;
    best.worst_reading_percent = cover.worst_percent;
  }
  best.area = area.name;
  best.wanted_percent = area.share_percent;
  best.weak = best.share_percent < area.share_percent;
  best.points = static_cast<int>(points.size());
  return best;
}

}  // namespace linkmargin
