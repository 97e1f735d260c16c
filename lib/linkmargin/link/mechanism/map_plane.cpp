#include "linkmargin/link/mechanism/map_plane.hpp"

#include "linkmargin/link/building/panel_index.hpp"
#include "linkmargin/link/mechanism/detour_graph.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace linkmargin {
namespace {

/// So wide a tile is, in cells: few cells share too little, and of a wide tile little is sure.
constexpr double kTileCells = 8;  ///< takes time, changes nothing
constexpr double kWidestTileM = 2;

/// Wider tiles are taken where there would be more figures than this, 4 bytes each.
constexpr double kMostFigures = 4e6;

/// Lines that pass an end of a panel, or its top, this closely are not sure to meet it.
constexpr double kSurelyM = 1e-3;

/// Whether a line surely meets a panel.
bool surely_meets(Point3 a, Point3 b, const Panel& panel) {
  const Point2 along = panel.base.b - panel.base.a;
  const double size = length(panel.base);
  if (size <= 2 * kSurelyM) return false;
  const double before = cross(along, a.plan() - panel.base.a) / size;
  const double after = cross(along, b.plan() - panel.base.a) / size;
  if (before * after >= 0 || std::min(std::abs(before), std::abs(after)) <= kSurelyM) return false;
  const double fraction = before / (before - after);
  const Point2 at = a.plan() + fraction * (b.plan() - a.plan());
  const double along_m = dot(at - panel.base.a, along) / size;
  const double z = a.z + fraction * (b.z - a.z);
  return along_m > kSurelyM && along_m < size - kSurelyM && z > panel.bottom_m + kSurelyM &&
         z < panel.top_m - kSurelyM;
}

std::size_t count(double size_m, double tile_m) {
  return std::max<std::size_t>(1, static_cast<std::size_t>(std::ceil(size_m / tile_m)));
}

}  // namespace

MapPlane::MapPlane(const Scene& scene, const Box2& box, double z_m, double step_m)
    : scene_(scene), slabs_(scene), box_(box), z_m_(z_m) {
  for (const Barrier& barrier : scene.barriers()) least_db_.push_back(barrier.transmission.least_loss_db());
  const Point2 size = box.max - box.min;
  const double sides = 2 * static_cast<double>(std::max<std::size_t>(1, scene.apertures().size()));
  tile_m_ = std::max(std::min(kTileCells * step_m, kWidestTileM),
                     std::sqrt(size.x * size.y * sides / kMostFigures));
  columns_ = count(size.x, tile_m_);
  rows_ = count(size.y, tile_m_);
  walls_db_ = std::vector<std::atomic<float>>(columns_ * rows_ * 2 * scene.apertures().size());
  for (std::atomic<float>& one : walls_db_)
    one.store(std::numeric_limits<float>::quiet_NaN(), std::memory_order_relaxed);
}

double MapPlane::least_passed_db(Point3 cell, std::uint32_t aperture, bool left) const {
  if (cell.z != z_m_ || !box_.holds(cell.plan())) return 0;
  const Point3 from = scene_.detour_graph().entry_point(aperture, left);
  const auto place = [&](double offset_m, std::size_t most) {
    return std::min(most - 1, static_cast<std::size_t>(offset_m / tile_m_));
  };
  const std::size_t column = place(cell.x - box_.min.x, columns_), row = place(cell.y - box_.min.y, rows_);
  std::atomic<float>& known =
      walls_db_[(row * columns_ + column) * 2 * scene_.apertures().size() + 2 * aperture + (left ? 1 : 0)];
  float walls_db = known.load(std::memory_order_relaxed);
  if (std::isnan(walls_db)) {
    const Point2 low = box_.min + tile_m_ * Point2{static_cast<double>(column), static_cast<double>(row)};
    const Point2 rounding{kSurelyM, kSurelyM};
    const Box2 tile{low - rounding, low + Point2{tile_m_, tile_m_} + rounding};
    walls_db = std::nextafter(
        static_cast<float>(least_walls_db(from, tile, scene_.apertures()[aperture].line)), 0.0F);
    known.store(walls_db, std::memory_order_relaxed);
  }
  constexpr double all_db = std::numeric_limits<double>::infinity();
  return static_cast<double>(walls_db) + slabs_.least_db(cell, from, all_db);
}

double MapPlane::least_walls_db(Point3 from, const Box2& tile, std::uint32_t without_line) const {
  const std::array corners{Point3{tile.min.x, tile.min.y, z_m_}, Point3{tile.max.x, tile.min.y, z_m_},
                           Point3{tile.max.x, tile.max.y, z_m_}, Point3{tile.min.x, tile.max.y, z_m_}};
  thread_local std::vector<std::uint32_t> met;  // asked for every tile: no memory asked for each
  const auto [low_m, high_m] = std::minmax(from.z, z_m_);
  scene_.panel_index().crossings({from.plan(), corners[0].plan()}, low_m, high_m, met);
  double sum_db = 0;
  for (const std::uint32_t position : met) {
    const Panel& panel = scene_.panels()[position];
    if (panel.barrier == kNone) continue;
    if (panel.wall != kNone && scene_.walls()[panel.wall].line == without_line) continue;
    if (std::ranges::all_of(corners, [&](Point3 corner) { return surely_meets(from, corner, panel); }))
      sum_db += least_db_[panel.barrier];
  }
  return sum_db;
}

}  // namespace linkmargin
