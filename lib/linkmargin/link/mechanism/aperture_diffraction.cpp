#include "linkmargin/link/mechanism/aperture_diffraction.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/propagation/diffraction/diffraction.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace linkmargin {
namespace {

/// A point this close to an aperture's plane stands in it, on either side: of two doors of one wall each lies
/// in the plane of the other.
constexpr double kOnPlaneM = 0.01;  ///< assumption; doubled or halved, no loss moves

constexpr OpeningEdge kNoEdge{.v = std::numeric_limits<double>::infinity()};

/// A line through the plane of an aperture.
struct Sight {
  Point3 a;
  Point3 b;
  double straight_m;
  double wavelength_m;

  OpeningEdge edge(Point3 at, bool passes_open_side) const {
    const double way_m = std::max(straight_m, distance(a, at) + distance(at, b));
    return opening_edge(way_m, straight_m, wavelength_m, passes_open_side);
  }
};

double power(double loss_db) {
  return std::pow(10, -loss_db / 10);
}

/// What a wall is made of where it is met: each of its pieces has its own name.
std::uint32_t met_barrier(const Building& building, const Crossing& crossing) {
  const bool solid =
      crossing.barrier != kNone && building.barriers()[crossing.barrier].cause == LossCause::wall;
  return solid ? crossing.barrier : building.walls()[crossing.wall].barrier;
}

}  // namespace

double aperture_power_fraction(const Aperture& aperture, Point3 a, Point3 b, double wavelength_m) {
  if (b < a) std::swap(a, b);
  const double before = dot(aperture.normal, a.plan() - aperture.base.a);
  const double after = dot(aperture.normal, b.plan() - aperture.base.a);
  if (before * after > 0 && std::min(std::abs(before), std::abs(after)) > kOnPlaneM) return 0;
  const double fraction = before == after ? 0.5 : std::clamp(before / (before - after), 0.0, 1.0);
  const Point3 at{a.x + fraction * (b.x - a.x), a.y + fraction * (b.y - a.y), a.z + fraction * (b.z - a.z)};
  const Sight sight{a, b, std::max(distance(a, b), 1e-3), wavelength_m};

  const double width_m = length(aperture.base);
  const double along_m =
      dot(at.plan() - aperture.base.a, (1 / width_m) * (aperture.base.b - aperture.base.a));
  const auto upright = [&](Point2 end, bool open_side) {
    return sight.edge({end.x, end.y, at.z}, open_side);
  };
  const auto level = [&](double z_m, bool open_side) { return sight.edge({at.x, at.y, z_m}, open_side); };
  const double across =
      slit_power_fraction(aperture.edge_a ? upright(aperture.base.a, along_m >= 0) : kNoEdge,
                          aperture.edge_b ? upright(aperture.base.b, along_m < width_m) : kNoEdge);
  const double up = slit_power_fraction(
      aperture.edge_bottom ? level(aperture.bottom_m, at.z >= aperture.bottom_m) : kNoEdge,
      aperture.edge_top ? level(aperture.top_m, at.z < aperture.top_m) : kNoEdge);
  return across * up;
}

double contrast(const Building& building, const Aperture& aperture) {
  const std::uint32_t leaf = aperture.barrier;
  return aperture_contrast(aperture.wall_db,
                           leaf == kNone ? 0 : building.barriers()[leaf].transmission.loss_db(1));
}

std::span<const double> ApertureCache::of(std::uint32_t line) {
  const std::vector<std::uint32_t>& apertures = building_.wall_lines()[line].apertures;
  const auto known = std::ranges::find(known_, line, &Known::line);
  if (known != known_.end()) return std::span(shares_).subspan(known->first, apertures.size());
  known_.push_back({line, shares_.size()});
  const double wavelength = wavelength_m(building_.radio().frequency_hz);
  for (const std::uint32_t aperture : apertures)
    shares_.push_back(aperture_power_fraction(building_.apertures()[aperture], a_, b_, wavelength));
  return std::span(shares_).last(apertures.size());
}

ApertureDiffraction aperture_diffraction(ApertureCache& shares, const Crossing& crossing) {
  const Building& building = shares.building();
  const Wall& wall = building.walls()[crossing.wall];
  const auto loss_db = [&](std::uint32_t barrier) {
    return barrier == kNone ? 0.0 : building.barriers()[barrier].transmission.loss_db(crossing.incidence_cos);
  };
  ApertureDiffraction result;
  double most = 0;
  double total = 0;
  const auto add = [&](double share, std::uint32_t aperture, std::uint32_t barrier) {
    const double element_db = loss_db(barrier);
    const double part = share * power(element_db);
    total += part;
    if (part <= most) return;
    most = part;
    result.aperture = aperture;
    result.barrier = barrier;
    result.element_db = element_db;
    result.sigma_db = barrier == kNone ? 0 : building.barriers()[barrier].transmission.sigma_db();
  };
  double through_apertures = 0;
  const std::span<const double> through = shares.of(wall.line);
  const std::vector<std::uint32_t>& apertures = building.wall_lines()[wall.line].apertures;
  for (std::size_t i = 0; i < through.size(); ++i) {
    through_apertures += through[i];
    add(through[i], apertures[i], building.apertures()[apertures[i]].barrier);
  }
  const double kept_back = std::max(0.0, 1 - through_apertures);
  if (wall.beside[0] == kNone) {
    add(kept_back, kNone, met_barrier(building, crossing));
  } else {
    for (const std::uint32_t barrier : wall.beside) add(kept_back / 2, kNone, barrier);
  }
  // A power too small for a double is that of solid metal without an aperture: its loss in decibels still is
  // a number.
  result.loss_db = total > 0 ? -10 * std::log10(total) : loss_db(wall.barrier);
  if (total > 0) result.power_fraction = most / total;
  return result;
}

ObstacleDiffraction obstacle_diffraction(const Building& building, Point3 a, Point3 b,
                                         const Crossing& crossing) {
  if (b < a) std::swap(a, b);
  const double through_db = building.barriers()[crossing.barrier].transmission.loss_db(1);
  if (a.plan() == b.plan()) return {through_db, 1};
  const ObstaclePrism& obstacle = building.obstacles()[crossing.obstacle];
  const Sight sight{a, b, std::max(distance(a, b), 1e-3), wavelength_m(building.radio().frequency_hz)};
  const double f = crossing.fraction;
  const Point3 inside{a.x + f * (b.x - a.x), a.y + f * (b.y - a.y), a.z + f * (b.z - a.z)};
  // Round a side, the way must clear the corner that stands out most.
  OpeningEdge left{0, 1}, right{0, 1};
  for (const Point2 corner : obstacle.outline) {
    const OpeningEdge edge = sight.edge({corner.x, corner.y, inside.z}, true);
    OpeningEdge& most = side(a.plan(), b.plan(), corner) >= 0 ? left : right;
    if (edge.v > most.v) most = edge;
  }
  const OpeningEdge top = sight.edge({inside.x, inside.y, obstacle.top_m}, true);
  double round = 0;  // three quarters at most
  for (const OpeningEdge& edge : {left, right, top}) round += edge.spreading_ratio * half_plane_power(edge.v);
  const double through = (1 - round) * power(through_db);
  const double total = round + through;
  return {-10 * std::log10(total), total > 0 ? through / total : 1};
}

}  // namespace linkmargin
