#include "linkmargin/link/reverberation/outer_face.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/link/building/path.hpp"
#include "linkmargin/propagation/diffraction/diffraction.hpp"

#include <algorithm>
#include <cmath>
#include <complex>

namespace linkmargin {
namespace {

/// Halves of the angles by which the rays of a room rise to its upper edge.
class HalfRises {
 public:
  static constexpr std::size_t kRays = 12;  ///< doubled or halved, no loss moves
  struct Rise {
    double sine;
    double cosine;
  };
  HalfRises() {
    for (std::size_t i = 0; i < kRays; ++i) {
      const double half = std::asin((static_cast<double>(i) + 0.5) / kRays) / 2;
      rises_[i] = {std::sin(half), std::cos(half)};
    }
  }
  const std::array<Rise, kRays>& all() const { return rises_; }

 private:
  std::array<Rise, kRays> rises_{};
};

}  // namespace

double OuterFace::solid_angle(Point3 from) const {
  constexpr double kOnTheFaceM = 1e-6;
  const Point2 away = from.plan() - start;
  if (dot(outward, away) < -kOnTheFaceM) return 0;
  const double off_m = std::max(dot(outward, away), kOnTheFaceM);
  // Of a rectangle with one corner at the foot of the perpendicular, by the two sides' signed lengths.
  const auto corner = [&](double x, double y) {
    return std::complex(off_m * std::sqrt(off_m * off_m + x * x + y * y), x * y);
  };
  const double x1 = -dot(along, away), x2 = length_m - dot(along, away);
  const double y1 = bottom_m - from.z, y2 = top_m - from.z;
  // The sum of the four angles, by one arc tangent: it lies between 0 and a half space.
  const double angle =
      std::arg(corner(x2, y2) * std::conj(corner(x1, y2)) * (std::conj(corner(x2, y1)) * corner(x1, y1)));
  return angle < -1e-9 ? angle + 2 * kPi : std::max(0.0, angle);
}

/// A room's field rises towards the edge from a quarter of the sphere, by every angle alike over its sine;
/// each ray bends down over the edge as over a half plane. Seen along the edge, the angle that it fills
/// counts.
double OuterFace::over_edge(Point3 from, double wavelength_m) const {
  static const HalfRises rises;
  const Point2 away = from.plan() - start;
  const double off_m = dot(outward, away);
  if (off_m <= 0) return 0;
  const double down_m = top_m - from.z;
  const double edge_m = std::max(std::sqrt(off_m * off_m + down_m * down_m), kNearestM);
  const double half_dip = std::atan2(down_m, off_m) / 2;
  const double sine = std::sin(half_dip), cosine = std::cos(half_dip);
  const double zones = 2 * std::sqrt(2 * edge_m / wavelength_m);
  double passes = 0;
  for (const HalfRises::Rise& rise : rises.all())
    passes += half_plane_power((rise.sine * cosine + rise.cosine * sine) * zones) / HalfRises::kRays;
  const double x1 = -dot(along, away), x2 = length_m - dot(along, away);
  return passes * (std::atan(x2 / edge_m) - std::atan(x1 / edge_m)) / (4 * kPi);
}

double OuterFace::lit(Point3 from, double wavelength_m) const {
  return transmitted * (eaves ? over_edge(from, wavelength_m) : solid_angle(from) / (4 * kPi));
}

std::array<double, kElevations> OuterFace::lit_by_elevation(Point3 from, double in_all) const {
  std::array<double, kElevations> result{};
  if (eaves) {
    result.fill(in_all);
    return result;
  }
  constexpr int kAlong = 3, kUp = 2;  ///< parts of the face; doubled, no loss moves by 0.1 dB
  if (in_all <= 0) return result;
  const double off_m = std::max(dot(outward, from.plan() - start), kNearestM);
  const double foot_m = dot(along, from.plan() - start);
  double seen = 0;
  for (int i = 0; i < kAlong; ++i) {
    const double aside_m = (i + 0.5) / kAlong * length_m - foot_m;
    for (int j = 0; j < kUp; ++j) {
      const double up_m = bottom_m + (j + 0.5) / kUp * (top_m - bottom_m) - from.z;
      const double away2 = off_m * off_m + aside_m * aside_m + up_m * up_m;
      const double away_m = std::sqrt(away2);
      const double cosine = off_m / away_m, solid = cosine / away2;
      const double place = cosine * (kAngles - 1);
      const auto step = std::min(static_cast<std::size_t>(place), kAngles - 2);
      const double part = place - static_cast<double>(step);
      const double passes = solid * (at_cosine[step] * (1 - part) + at_cosine[step + 1] * part);
      seen += solid;
      const double sine = std::clamp(std::abs(up_m) / away_m, kElevationSine.front(), kElevationSine.back());
      std::size_t above = 1;
      while (above + 1 < kElevations && kElevationSine[above] < sine) ++above;
      const double share =
          (sine - kElevationSine[above - 1]) / (kElevationSine[above] - kElevationSine[above - 1]);
      result[above - 1] += (1 - share) * passes;
      result[above] += share * passes;
    }
  }
  for (std::size_t i = 0; i < kElevations; ++i)
    result[i] *= in_all / transmitted / seen / kElevationWeight[i];
  return result;
}

Point3 OuterFace::before() const {
  const Point2 plan = start + (length_m / 2) * along + kFootM * outward;
  return {plan.x, plan.y, eaves ? top_m + kFootM : (bottom_m + top_m) / 2};
}

}  // namespace linkmargin
