#include "linkmargin/link/corners.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/geometry/near_boxes.hpp"
#include "linkmargin/link/shading.hpp"
#include "linkmargin/link/wall_builder.hpp"
#include "linkmargin/propagation/diffraction.hpp"
#include "linkmargin/propagation/free_space.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>

namespace linkmargin {
namespace {

constexpr std::size_t kMostASide = 2;
constexpr double kFadesFrom = 2;  ///< Fresnel zones
constexpr double kFarthest = 3;

/// How far past a corner the wave that passes it is traced.
constexpr double kPastM = 0.02;

/// An arm that leans less than this to either side (sine of the angle) runs along the line.
constexpr double kLean = 0.05;

void add_arms(const Wall& wall, std::uint32_t position, Corner& corner) {
  for (const Point2 end : {wall.base.a, wall.base.b}) {
    const double size = distance(corner.at, end);
    if (size > kJointM) corner.arms.push_back({(1 / size) * (end - corner.at), position});
  }
}

void add_body_corners(const Scene& scene, std::vector<Corner>& corners) {
  for (std::uint32_t b = 0; b < scene.bodies().size(); ++b) {
    const Body& body = scene.bodies()[b];
    const std::size_t count = body.outline.size();
    for (std::size_t i = 0; i < count; ++i) {
      Corner corner{
          .at = body.outline[i], .bottom_m = body.bottom_m, .top_m = body.top_m, .arms = {}, .body = b};
      for (const Point2 end : {body.outline[(i + 1) % count], body.outline[(i + count - 1) % count]}) {
        const double size = distance(corner.at, end);
        if (size > 0) corner.arms.push_back({(1 / size) * (end - corner.at), kNone});
      }
      corners.push_back(std::move(corner));
    }
  }
}

/// A corner beside a line.
struct Beside {
  const Corner* corner;
  double v;       ///< Fresnel zones
  double counts;  ///< [0, 1]: how far it stands out towards the line
  Point3 past;    ///< a little beyond the corner, seen from the line
};

class Blend {
 public:
  Blend(const Scene& scene, const Path& path)
      : scene_(scene), path_(path), wavelength_m_(wavelength_m(scene.radio().frequency_hz)) {
    const Point2 line = path.to.plan() - path.from.plan();
    plan_m_ = std::hypot(line.x, line.y);
    if (plan_m_ > 0) along_ = (1 / plan_m_) * line;
  }

  double change_db(double passed_db) {
    if (plan_m_ <= 0) return 0;
    for (const Corner& corner : scene_.corners()) look_at(corner);
    if (sides_[0].empty() && sides_[1].empty()) return 0;
    std::complex<double> wave = 1;
    for (auto& side : sides_) {
      std::ranges::stable_sort(side, {}, &Beside::v);
      if (side.size() > kMostASide) side.resize(kMostASide);
      for (std::size_t i = 0; i < side.size(); ++i) {
        const std::complex<double> further = i + 1 < side.size() ? share(side[i + 1]) : 0.0;
        const double ratio = std::pow(10, (passed_db - passed_past_db(side[i])) / 20);
        wave += (share(side[i]) - further) * (ratio - 1);
      }
    }
    return -10 * std::log10(std::max(std::norm(wave), 1e-12));
  }

 private:
  static std::complex<double> share(const Beside& beside) {
    const double fade = std::clamp((kFarthest - beside.v) / (kFarthest - kFadesFrom), 0.0, 1.0);
    return beside.counts * fade * half_plane_share(beside.v);
  }

  void look_at(const Corner& corner) {
    const Point2 from = corner.at - path_.from.plan();
    const double along_m = dot(from, along_);
    if (along_m <= 0 || along_m >= plan_m_) return;
    const double across_m = cross(along_, from);
    // Close to a straight line the way round is longer by across^2 / 2 (1 / d1 + 1 / d2): a quick look first.
    const double nearness = across_m * across_m * plan_m_ / (along_m * (plan_m_ - along_m));
    if (2 * nearness > 4 * kFarthest * kFarthest * wavelength_m_) return;
    const double z = path_.from.z + along_m / plan_m_ * (path_.to.z - path_.from.z);
    if (z < corner.bottom_m || z >= corner.top_m) return;
    const double counts = standing_out(corner, across_m);
    if (counts <= 0) return;
    const double way_m = distance(path_.from, {corner.at.x, corner.at.y, z}) +
                         distance({corner.at.x, corner.at.y, z}, path_.to);
    const double v = fresnel_parameter(std::max(way_m, path_.distance_m), path_.distance_m, wavelength_m_);
    if (v >= kFarthest) return;
    const double outward = across_m >= 0 ? 1 : -1;
    const Point2 past = corner.at + (outward * kPastM) * Point2{-along_.y, along_.x};
    sides_[across_m >= 0 ? 0 : 1].push_back({&corner, v, counts, {past.x, past.y, z}});
  }

  /// Whether nothing of the corner lies on the line's side but what the line passes: else the line runs along
  /// the inside of the corner, where nothing shades it.
  /// @return 1: it stands out; 0: it does not; between where an arm runs almost along the line
  double standing_out(const Corner& corner, double across_m) const {
    const double outward = across_m >= 0 ? 1 : -1;
    if (corner.body != kNone && crosses_body(corner.body)) return 0;
    double least = 1;
    for (const Corner::Arm& arm : corner.arms) {
      const double lean = outward * cross(along_, arm.along);
      if (lean >= kLean || (arm.wall != kNone && crosses_wall(arm.wall))) continue;
      least = std::min(least, std::max(0.0, (lean + kLean) / (2 * kLean)));
    }
    return least;
  }

  bool crosses_wall(std::uint32_t wall) const {
    return std::ranges::any_of(path_.crossings,
                               [&](const Crossing& crossing) { return crossing.wall == wall; });
  }

  bool crosses_body(std::uint32_t body) const {
    return std::ranges::any_of(path_.crossings,
                               [&](const Crossing& crossing) { return crossing.body == body; });
  }

  /// What the way passes that goes just beyond a corner.
  double passed_past_db(const Beside& beside) const {
    double sum_db = 0;
    for (const Path& leg : {trace(scene_, path_.from, beside.past), trace(scene_, beside.past, path_.to)}) {
      for (const Crossing& crossing : leg.crossings) {
        if (crossing.wall != kNone) {
          sum_db += shading(scene_, path_.from, path_.to, crossing).loss_db;
        } else if (crossing.body != kNone && crosses_body(crossing.body)) {
          sum_db += round_body_db(scene_, path_.from, path_.to, crossing);
        } else if (crossing.element != kNone) {
          sum_db += scene_.elements()[crossing.element].transmission.loss_db(crossing.incidence_cos);
        }
      }
    }
    // Both legs end inside an obstacle that is passed once.
    if (beside.corner->body != kNone) {
      const std::uint32_t element = scene_.bodies()[beside.corner->body].element;
      sum_db -= scene_.elements()[element].transmission.loss_db(1);
    }
    return sum_db;
  }

  const Scene& scene_;
  const Path& path_;
  double wavelength_m_;
  double plan_m_ = 0;
  Point2 along_;
  std::array<std::vector<Beside>, 2> sides_;
};

}  // namespace

std::vector<Corner> find_corners(const Scene& scene) {
  std::vector<Box2> boxes;
  for (const Wall& wall : scene.walls()) {
    const auto [left, right] = std::minmax(wall.base.a.x, wall.base.b.x);
    const auto [low, high] = std::minmax(wall.base.a.y, wall.base.b.y);
    boxes.push_back({{left, low}, {right, high}});
  }
  std::vector<std::vector<std::uint32_t>> near(boxes.size());
  for_near_boxes(boxes, kJointM, [&](std::size_t i, std::size_t j) {
    const Wall& one = scene.walls()[i];
    const Wall& other = scene.walls()[j];
    if (one.element == kNone || other.element == kNone) return true;
    if (one.bottom_m >= other.top_m || other.bottom_m >= one.top_m) return true;
    near[i].push_back(static_cast<std::uint32_t>(j));
    near[j].push_back(static_cast<std::uint32_t>(i));
    return true;
  });
  std::vector<Corner> corners;
  for (std::uint32_t i = 0; i < near.size(); ++i) {
    const Wall& wall = scene.walls()[i];
    for (const Point2 end : {wall.base.a, wall.base.b}) {
      Corner corner{.at = end, .bottom_m = wall.bottom_m, .top_m = wall.top_m, .arms = {}, .body = kNone};
      add_arms(wall, i, corner);
      bool first = true;
      bool met = false;
      for (const std::uint32_t j : near[i]) {
        const Wall& other = scene.walls()[j];
        if (distance_to_segment(end, other.base) >= kJointM) continue;
        met = true;
        const bool ends_here = distance(end, other.base.a) < kJointM || distance(end, other.base.b) < kJointM;
        first = first && !(ends_here && j < i);  // a corner of several ends is found once
        add_arms(other, j, corner);
      }
      if (met && first) corners.push_back(std::move(corner));
    }
  }
  add_body_corners(scene, corners);
  return corners;
}

double corner_change_db(const Scene& scene, const Path& path, double passed_db) {
  return Blend(scene, path).change_db(passed_db);
}

}  // namespace linkmargin
