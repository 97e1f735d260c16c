#include "linkmargin/link/mechanism/corner_diffraction.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/link/building/panel_index.hpp"
#include "linkmargin/link/building/wall_builder.hpp"
#include "linkmargin/propagation/diffraction/diffraction.hpp"
#include "linkmargin/propagation/path_loss/free_space.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <functional>
#include <optional>
#include <span>

namespace linkmargin {
namespace {

constexpr double kFadesFrom = 2;  ///< Fresnel zones; assumption; halved: 1.3 dB at most, 0.15 rms
constexpr double kFarthest = 3;   ///< assumption; doubled: 2.8 dB at most, 0.2 rms

/// Corners of one side that lie nearer to each other than this, in Fresnel zones from the line, count as
/// passed together: none steps before another.
constexpr double kTogether = 0.5;  ///< assumption; doubled, halved: 0.9, 1.3 dB at most, 0.09 rms

/// How far past a corner the wave that passes it is traced.
constexpr double kPastM = 0.02;  ///< assumption; doubled, halved: 2.4, 3.4 dB at most, 0.1, 0.2 rms

/// How far a slab's middle may lie from the edges of the walls that meet it.
constexpr double kSlabM = 0.6;  ///< assumption; doubled, halved: 0.03, 0.7 dB at most

/// An arm that leans less than this to either side (sine of the angle) runs along the line.
constexpr double kLean = 0.05;  ///< assumption; doubled, halved: 6.0, 0.5 dB at most, 0.3, 0.03 rms

/// A corner beside a line.
struct NearbyCorner {
  const Corner* corner;               ///< null: the edge of a wall at a slab
  double v;                           ///< Fresnel zones
  double counts;                      ///< [0, 1]: how far it stands out towards the line
  Point3 past;                        ///< a little beyond the corner, seen from the line
  std::optional<double> passed_db{};  ///< what the way by there passes, when it has been asked for
};

class CornerDiffraction {
 public:
  CornerDiffraction(const Corners& corners, const Path& path, ApertureCache& shares)
      : corners_(corners),
        building_(shares.building()),
        path_(path),
        shares_(shares),
        wavelength_m_(wavelength_m(building_.radio().frequency_hz)) {
    const Point2 line = path.to.plan() - path.from.plan();
    plan_m_ = distance(path.from.plan(), path.to.plan());
    if (plan_m_ > 0) along_ = (1 / plan_m_) * line;
  }

  double change_db(double passed_db) {
    if (plan_m_ <= 0) return 0;
    for (const Crossing& crossing : path_.crossings) {
      if (crossing.wall != kNone) crossed_walls_.push_back(crossing.wall);
    }
    look_at_corners();
    if (std::ranges::any_of(path_.crossings, is_slab)) look_along_slabs();
    if (std::ranges::all_of(sides_, &std::vector<NearbyCorner>::empty)) return 0;
    std::complex<double> wave = 1;
    for (auto& side : sides_) wave += added(side, passed_db);
    return -10 * std::log10(std::max(std::norm(wave), 1e-12));
  }

 private:
  /// Of the wave, what goes further out than v.
  static std::complex<double> share(double v) {
    return std::clamp((kFarthest - v) / (kFarthest - kFadesFrom), 0.0, 1.0) * half_plane_coefficient(v);
  }

  /// What the corners of one side change of the wave: beyond the nearest what passes past it, beyond the next
  /// what passes past that. A third counts as far as the nearest lies almost in the line, where it may as
  /// well be one of the other side.
  std::complex<double> added(std::vector<NearbyCorner>& side, double passed_db) {
    if (side.empty()) return 0;
    std::ranges::sort(side, {}, &NearbyCorner::v);
    const double third = side.size() > 2 ? std::max(0.0, 1 - side[0].v / kTogether) : 0;
    const std::size_t levels = std::min<std::size_t>(side.size(), third > 0 ? 3 : 2);
    std::complex<double> sum = 0;
    double nearer = 0;
    for (std::size_t k = 0; k < levels; ++k) {
      const double gain = gain_beyond(side, k, nearer, passed_db);
      const std::complex<double> further = k + 1 < levels ? (k == 1 ? third : 1) * share(side[k + 1].v) : 0.0;
      sum += ((k == 2 ? third : 1) * share(side[k].v) - further) * gain;
      nearer = gain;
    }
    return sum;
  }

  /// By how much the wave is stronger between corner k and the next than along the line; that of both where
  /// they change places.
  /// @param nearer  the same of corner k - 1
  double gain_beyond(std::vector<NearbyCorner>& side, std::size_t k, double nearer, double passed_db) {
    const double width = k > 0 ? std::min(kTogether, side[k - 1].v) : 0;
    const auto together = [&](std::size_t i) {
      return i == k ? 1 : width > 0 ? std::max(0.0, 1 - std::abs(side[k].v - side[i].v) / width) : 0;
    };
    double weight = 0;
    double gain = 0;
    for (std::size_t i = 0; i < side.size(); ++i) {
      const double part = together(i) * side[i].counts;
      if (part <= 0) continue;
      if (!side[i].passed_db) side[i].passed_db = passed_past_db(side[i]);
      weight += part;
      gain += part * (std::pow(10, (passed_db - *side[i].passed_db) / 20) - 1);
    }
    if (weight > 1) gain /= weight;
    if (k > 0) gain += std::max(0.0, 1 - weight) * (1 - together(k - 1)) * nearer;
    return gain;
  }

  void look_at_corners() {
    // The way by which a point lies kFarthest zones off: the root of v^2 = 2 (way^2 - straight^2) / (lambda
    // way).
    const double straight_m = path_.distance_m, quarter_m = kFarthest * kFarthest * wavelength_m_ / 4;
    const double way_m = quarter_m + std::sqrt(quarter_m * quarter_m + straight_m * straight_m);
    const auto [low_m, high_m] = std::minmax(path_.from.z, path_.to.z);
    thread_local std::vector<std::uint32_t> near;  // asked millions of times: no memory asked for each
    corners_.index.near({{path_.from.plan(), path_.to.plan()}, straight_m, low_m, high_m}, way_m, near);
    for (const std::uint32_t i : near) look_at(corners_.all[i]);
  }

  void look_at(const Corner& corner) {
    const Point2 from = corner.at - path_.from.plan();
    const double along_m = dot(from, along_);
    if (along_m <= 0 || along_m >= plan_m_) return;
    const double z = height_at(along_m / plan_m_);
    if (z < corner.bottom_m || z >= corner.top_m) return;
    const bool left = side(path_.from.plan(), path_.to.plan(), corner.at) >= 0;  // as crosses() takes it
    const double outward = left ? 1 : -1;
    const double v = zones_off({corner.at.x, corner.at.y, z});
    if (v >= kFarthest) return;
    const double counts = standing_out(corner, outward);
    if (counts <= 0) return;
    const Point2 past = corner.at + (outward * kPastM) * Point2{-along_.y, along_.x};
    sides_[left ? 0 : 1].push_back({&corner, v, counts, {past.x, past.y, z}});
  }

  static bool is_slab(const Crossing& crossing) {
    return crossing.wall == kNone && crossing.obstacle == kNone && crossing.barrier != kNone;
  }

  double height_at(double fraction) const { return path_.from.z + fraction * (path_.to.z - path_.from.z); }

  /// How far a point lies from the line, in Fresnel zones.
  double zones_off(Point3 at) const {
    const double way_m = distance(path_.from, at) + distance(at, path_.to);
    return fresnel_parameter(std::max(way_m, path_.distance_m), path_.distance_m, wavelength_m_);
  }

  void look_along_slabs() {
    const Segment2 ray{path_.from.plan(), path_.to.plan()};
    const auto [low_m, high_m] = std::minmax(path_.from.z, path_.to.z);
    std::vector<std::uint32_t> panels;
    building_.panel_index().crossings(ray, low_m - kSlabM, high_m + kSlabM, panels);
    for (const Crossing& crossing : path_.crossings) {
      if (is_slab(crossing)) look_along(ray, panels, height_at(crossing.fraction));
    }
  }

  /// The walls that meet a slab which the line passes: their upper and lower edges are corners of the sheet
  /// that stands upright along the line.
  void look_along(Segment2 ray, std::span<const std::uint32_t> panels, double slab_z_m) {
    std::uint32_t before = kNone;
    for (const std::uint32_t p : panels) {
      const Panel& panel = building_.panels()[p];
      if (panel.barrier == kNone || panel.wall == before) continue;
      before = panel.wall;
      const Wall& wall = building_.walls()[panel.wall];
      if (std::abs(wall.top_m - slab_z_m) < kSlabM) look_at_edge(ray, panel, wall.top_m);
      if (std::abs(wall.bottom_m - slab_z_m) < kSlabM) look_at_edge(ray, panel, wall.bottom_m);
    }
  }

  void look_at_edge(Segment2 ray, const Panel& panel, double edge_z_m) {
    const double fraction = crossing_fraction(ray, panel.base);
    const Point2 plan = at_fraction(ray, fraction);
    const Point3 at{plan.x, plan.y, edge_z_m};
    const double v = zones_off(at);
    if (v >= kFarthest) return;
    const bool line_is_below = height_at(fraction) < edge_z_m;
    sides_[line_is_below ? 2 : 3].push_back(
        {nullptr, v, 1, {plan.x, plan.y, edge_z_m + (line_is_below ? kPastM : -kPastM)}});
  }

  /// Whether nothing of the corner lies on the line's side but what the line passes, or what ends short of
  /// it: else the line runs along the inside of the corner, where nothing shades it.
  /// @return 1: it stands out; 0: it does not; between where an arm runs almost along the line
  double standing_out(const Corner& corner, double outward) const {
    if (corner.obstacle != kNone && crosses_obstacle(corner.obstacle)) return 0;
    double least = 1;
    for (std::size_t i = 0; i < corner.arms.size(); ++i) {
      const Corner::Arm& arm = corner.arms[i];
      if (i > 0 && arm.along == corner.arms[i - 1].along) continue;  // a further piece of it
      const double lean = outward * cross(along_, arm.along);
      if (lean >= kLean || !is_shut(corner, arm, outward)) continue;
      least = std::min(least, std::max(0.0, (lean + kLean) / (2 * kLean)));
    }
    return least;
  }

  /// Whether an arm, drawn on, reaches over to the line's other side without that the line passes it.
  bool is_shut(const Corner& corner, const Corner::Arm& arm, double outward) const {
    if (arm.wall == kNone) return true;
    bool reaches_over = false;
    for (const Corner::Arm& piece : corner.arms) {
      if (piece.along != arm.along) continue;
      if (crosses_wall(piece.wall)) return false;
      reaches_over = reaches_over || outward * cross(along_, piece.end - path_.from.plan()) < 0;
    }
    return reaches_over;
  }

  bool crosses_wall(std::uint32_t wall) const {
    return std::ranges::find(crossed_walls_, wall) != crossed_walls_.end();
  }

  bool crosses_obstacle(std::uint32_t obstacle) const {
    return std::ranges::any_of(path_.crossings,
                               [&](const Crossing& crossing) { return crossing.obstacle == obstacle; });
  }

  /// What the way passes that goes just beyond a corner: all at the angles of the straight line, beside which
  /// it runs.
  double passed_past_db(const NearbyCorner& beside) {
    const std::uint32_t own_obstacle = beside.corner != nullptr ? beside.corner->obstacle : kNone;
    double sum_db = 0;
    bool meets_own = false;                  // an obstacle in which both legs end is passed once
    thread_local std::vector<Crossing> met;  // asked millions of times: no memory asked for each
    for (const Point3 end : {path_.from, path_.to}) {
      find_crossings(building_, end, beside.past, met);
      for (Crossing crossing : met) {
        crossing.incidence_cos = incidence_cos(crossing);
        if (crossing.obstacle != kNone && crossing.obstacle == own_obstacle) {
          meets_own = true;
        } else if (crossing.wall != kNone) {
          sum_db += wall_db(crossing);
        } else if (crossing.obstacle != kNone && crosses_obstacle(crossing.obstacle)) {
          sum_db += obstacle_diffraction(building_, path_.from, path_.to, crossing).loss_db;
        } else {
          sum_db += plain_loss_db(building_, crossing);
        }
      }
    }
    if (meets_own)
      sum_db += building_.barriers()[building_.obstacles()[own_obstacle].barrier].transmission.loss_db(1);
    return sum_db;
  }

  /// Of one wall the same on every way: each is at the angle of the straight line.
  double wall_db(const Crossing& crossing) {
    const auto known = std::ranges::find(walls_, crossing.wall, &PassedWall::wall);
    if (known != walls_.end()) return known->loss_db;
    walls_.push_back({crossing.wall, aperture_diffraction(shares_, crossing).loss_db});
    return walls_.back().loss_db;
  }

  double incidence_cos(const Crossing& crossing) const {
    if (crossing.obstacle != kNone) return 1;
    if (crossing.wall == kNone) return std::min(1.0, std::abs(path_.to.z - path_.from.z) / path_.distance_m);
    const Segment2 base = building_.walls()[crossing.wall].base;
    const double across_m = std::abs(cross(along_, base.b - base.a)) / length(base) * plan_m_;
    return std::min(1.0, across_m / path_.distance_m);
  }

  const Corners& corners_;
  const Building& building_;
  const Path& path_;
  ApertureCache& shares_;
  double wavelength_m_;
  double plan_m_ = 0;
  Point2 along_;
  std::array<std::vector<NearbyCorner>, 4> sides_;  // left, right, over and under the line
  struct PassedWall {
    std::uint32_t wall;
    double loss_db;
  };
  std::vector<PassedWall> walls_;             // those asked for
  std::vector<std::uint32_t> crossed_walls_;  // by the line
};

}  // namespace

double corner_diffraction_db(const Corners& corners, const Path& path, double passed_db,
                             ApertureCache& shares) {
  return CornerDiffraction(corners, path, shares).change_db(passed_db);
}

}  // namespace linkmargin
