#include "linkmargin/link/echoes.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/link/distance_model.hpp"
#include "linkmargin/link/echo_balance.hpp"
#include "linkmargin/link/path.hpp"
#include "linkmargin/link/routes.hpp"
#include "linkmargin/link/scene.hpp"
#include "linkmargin/propagation/diffraction.hpp"
#include "linkmargin/propagation/free_space.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <utility>

namespace linkmargin {
namespace {

/// The balance is solved densely: a second or so for as many.
constexpr std::size_t kMostCells = 800;

/// Faces that together could bring less than this of what the others bring are left out: 0.01 dB.
constexpr double kLeftOut = 0.0023;

/// What the straight line between two points passes. What bends round edges is left out: of a face's light it changes
/// little, and this is asked for every face of every point out of doors.
double passed_db(const Scene& scene, Point3 a, Point3 b) {
  double sum_db = 0;
  for (const Crossing& crossing : trace(scene, a, b).crossings) sum_db += plain_loss_db(scene, crossing);
  return sum_db;
}

}  // namespace

bool counts_echoes(const Environment& radio) {
  return radio.echoes && counts_routes(radio);
}

Echoes::Echoes(const Scene& scene) : wavelength_m_(wavelength_m(scene.radio().frequency_hz)) {
  cells_ = EchoCells::of(scene, kMostCells);
  if (cells_.cells.empty()) return;
  balance_echoes(scene, *this);
}

double Echoes::OuterFace::solid_angle(Point3 from) const {
  constexpr double kOnTheFaceM = 1e-6;
  const Point2 away = from.plan() - start;
  if (dot(outward, away) < -kOnTheFaceM) return 0;
  const double off_m = std::max(dot(outward, away), kOnTheFaceM);
  // Of a rectangle with one corner at the foot of the perpendicular, by the two sides' signed lengths.
  const auto corner = [&](double x, double y) {
    return std::atan2(x * y, off_m * std::sqrt(off_m * off_m + x * x + y * y));
  };
  const double x1 = -dot(along, away), x2 = length_m - dot(along, away);
  const double y1 = bottom_m - from.z, y2 = top_m - from.z;
  return corner(x2, y2) - corner(x1, y2) - corner(x2, y1) + corner(x1, y1);
}

/// A room's field rises towards the edge from a quarter of the sphere, by every angle alike over its sine; each ray
/// bends down over the edge as over a half plane. Seen along the edge, the angle that it fills counts.
double Echoes::OuterFace::over_edge(Point3 from, double wavelength_m) const {
  constexpr int kRays = 12;
  const Point2 away = from.plan() - start;
  const double off_m = dot(outward, away);
  if (off_m <= 0) return 0;
  const double down_m = top_m - from.z;
  const double edge_m = std::max(std::hypot(off_m, down_m), kNearestM);
  const double dip = std::atan2(down_m, off_m);
  double passes = 0;
  for (int i = 0; i < kRays; ++i) {
    const double bend = std::asin((i + 0.5) / kRays) + dip;
    passes += std::norm(half_plane_share(2 * std::sin(bend / 2) * std::sqrt(2 * edge_m / wavelength_m))) / kRays;
  }
  const double x1 = -dot(along, away), x2 = length_m - dot(along, away);
  return passes * (std::atan(x2 / edge_m) - std::atan(x1 / edge_m)) / (4 * kPi);
}

double Echoes::OuterFace::lit(Point3 from, double wavelength_m) const {
  return transmitted * (eaves ? over_edge(from, wavelength_m) : solid_angle(from) / (4 * kPi));
}

Point3 Echoes::OuterFace::before() const {
  const Point2 plan = start + (length_m / 2) * along + kFootM * outward;
  return {plan.x, plan.y, eaves ? top_m + kFootM : (bottom_m + top_m) / 2};
}

Echoes::End Echoes::end(const Scene& scene, Point3 p) const {
  End result;
  if (cells_.cells.empty()) return result;
  if (const auto place = cells_.locate(p)) return {.shares = cells_.shares(*place, p.plan()), .indoors = true};
  std::vector<std::pair<double, const OuterFace*>> lit;
  double rest = 0;
  for (const OuterFace& face : faces_) {
    const double share = face.lit(p, wavelength_m_);
    if (share <= 0) continue;
    lit.emplace_back(share, &face);
    rest += share;
  }
  // The largest first: the others are not traced where they could not matter.
  std::ranges::stable_sort(lit, std::greater{}, &std::pair<double, const OuterFace*>::first);
  double sum = 0;
  for (const auto& [share, face] : lit) {
    if (rest < kLeftOut * sum) break;
    rest -= share;
    const double arriving = share * std::pow(10, -passed_db(scene, p, face->before()) / 10);
    result.shares.push_back({face->cell, arriving});
    sum += arriving;
  }
  return result;
}

double Echoes::power(const End& a, const End& b) const {
  if (!a.indoors && !b.indoors) return 0;
  const std::size_t count = cells_.cells.size();
  double sum = 0;
  for (const EchoCells::Share& from : a.shares) {
    for (const EchoCells::Share& to : b.shares) {
      sum += from.share * to.share * coupling_[from.cell * count + to.cell];
    }
  }
  // A field from everywhere brings an antenna its power per m2 times lambda^2 / (8 pi), half of it in the
  // other polarisation; what hits one m2 of wall is a quarter of the power per m2 of that field.
  return wavelength_m_ * wavelength_m_ / (2 * kPi) * std::max(0.0, sum);
}

}  // namespace linkmargin
