#include "linkmargin/link/echoes.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/link/echo_balance.hpp"
#include "linkmargin/link/routes.hpp"
#include "linkmargin/link/scene.hpp"
#include "linkmargin/propagation/free_space.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

/// The balance is solved densely: a second or so for as many.
constexpr std::size_t kMostCells = 800;

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
  const double x1 = from_m - dot(along, away), x2 = to_m - dot(along, away);
  const double y1 = bottom_m - from.z, y2 = top_m - from.z;
  return corner(x2, y2) - corner(x1, y2) - corner(x2, y1) + corner(x1, y1);
}

Echoes::End Echoes::end(Point3 p) const {
  End result;
  if (cells_.cells.empty()) return result;
  if (const auto place = cells_.locate(p)) {
    result.indoors = true;
    // Between the middles of the blocks around, linear along x and y.
    const EchoCell& home = cells_.cells[place->cell];
    const double u = std::clamp((p.x - home.middle.x) / home.size.x, -0.5, 0.5);
    const double v = std::clamp((p.y - home.middle.y) / home.size.y, -0.5, 0.5);
    double sum = 0;
    for (const int dy : {-1, 0, 1}) {
      for (const int dx : {-1, 0, 1}) {
        const std::uint32_t cell = home.around[static_cast<std::size_t>((dy + 1) * 3 + dx + 1)];
        const double share = std::max(0.0, 1 - std::abs(u - dx)) * std::max(0.0, 1 - std::abs(v - dy));
        if (cell == kNone || share <= 0) continue;
        result.shares.push_back({cell, share});
        sum += share;
      }
    }
    for (End::Share& share : result.shares) share.share /= sum;
    return result;
  }
  for (const OuterFace& face : faces_) {
    const double solid_angle = face.solid_angle(p);
    if (solid_angle > 0) result.shares.push_back({face.cell, face.transmitted * solid_angle / (4 * kPi)});
  }
  return result;
}

double Echoes::power(const End& a, const End& b) const {
  if (!a.indoors && !b.indoors) return 0;
  const std::size_t count = cells_.cells.size();
  double sum = 0;
  for (const End::Share& from : a.shares) {
    for (const End::Share& to : b.shares) {
      sum += from.share * to.share * coupling_[from.cell * count + to.cell];
    }
  }
  // A field from everywhere brings an antenna its power per m2 times lambda^2 / (8 pi), half of it in the
  // other polarisation; what hits one m2 of wall is a quarter of the power per m2 of that field.
  return wavelength_m_ * wavelength_m_ / (2 * kPi) * std::max(0.0, sum);
}

}  // namespace linkmargin
