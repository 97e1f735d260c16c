#include "linkmargin/link/shading.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/propagation/diffraction.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace linkmargin {
namespace {

/// A point this close to a gap's plane stands in it, on either side: of two doors of one wall each lies in the
/// plane of the other.
constexpr double kOnPlaneM = 0.01;

constexpr OpeningEdge kNoEdge{std::numeric_limits<double>::infinity(), 1};

/// A line through the plane of a gap.
struct Sight {
  Point3 a;
  Point3 b;
  double straight_m;
  double wavelength_m;

  OpeningEdge edge(Point3 at, bool passes_open_side) const {
    const double way_m = std::max(straight_m, distance(a, at) + distance(at, b));
    const double v = fresnel_parameter(way_m, straight_m, wavelength_m);
    return {passes_open_side ? v : -v, straight_m / way_m};
  }
};

double power(double loss_db) {
  return std::pow(10, -loss_db / 10);
}

}  // namespace

double gap_share(const Gap& gap, Point3 a, Point3 b, double wavelength_m) {
  if (b < a) std::swap(a, b);
  const double before = dot(gap.normal, a.plan() - gap.base.a);
  const double after = dot(gap.normal, b.plan() - gap.base.a);
  if (before * after > 0 && std::min(std::abs(before), std::abs(after)) > kOnPlaneM) return 0;
  const double fraction = before == after ? 0.5 : std::clamp(before / (before - after), 0.0, 1.0);
  const Point3 at{a.x + fraction * (b.x - a.x), a.y + fraction * (b.y - a.y), a.z + fraction * (b.z - a.z)};
  const Sight sight{a, b, std::max(distance(a, b), 1e-3), wavelength_m};

  const double width_m = length(gap.base);
  const double along_m = dot(at.plan() - gap.base.a, (1 / width_m) * (gap.base.b - gap.base.a));
  const auto upright = [&](Point2 end, bool open_side) {
    return sight.edge({end.x, end.y, at.z}, open_side);
  };
  const auto level = [&](double z_m, bool open_side) { return sight.edge({at.x, at.y, z_m}, open_side); };
  const double across = opening_share(gap.edge_a ? upright(gap.base.a, along_m >= 0) : kNoEdge,
                                      gap.edge_b ? upright(gap.base.b, along_m < width_m) : kNoEdge);
  const double up = opening_share(gap.edge_bottom ? level(gap.bottom_m, at.z >= gap.bottom_m) : kNoEdge,
                                  gap.edge_top ? level(gap.top_m, at.z < gap.top_m) : kNoEdge);
  return across * up;
}

std::span<const double> GapShares::of(std::uint32_t line) {
  const std::vector<std::uint32_t>& gaps = scene_.wall_lines()[line].gaps;
  const auto known = std::ranges::find(known_, line, &Known::line);
  if (known != known_.end()) return std::span(shares_).subspan(known->first, gaps.size());
  known_.push_back({line, shares_.size()});
  const double wavelength = wavelength_m(scene_.radio().frequency_hz);
  for (const std::uint32_t gap : gaps) shares_.push_back(gap_share(scene_.gaps()[gap], a_, b_, wavelength));
  return std::span(shares_).last(gaps.size());
}

Shading shading(GapShares& shares, const Crossing& crossing) {
  const Scene& scene = shares.scene();
  const Wall& wall = scene.walls()[crossing.wall];
  const auto loss_db = [&](std::uint32_t element) {
    return element == kNone ? 0.0 : scene.elements()[element].transmission.loss_db(crossing.incidence_cos);
  };
  Shading result;
  double most = 0;
  double total = 0;
  const auto add = [&](double share, std::uint32_t gap, std::uint32_t element) {
    const double element_db = loss_db(element);
    const double part = share * power(element_db);
    total += part;
    if (part <= most) return;
    most = part;
    result.gap = gap;
    result.element = element;
    result.element_db = element_db;
    result.sigma_db = element == kNone ? 0 : scene.elements()[element].transmission.sigma_db();
  };
  double through_gaps = 0;
  const std::span<const double> through = shares.of(wall.line);
  const std::vector<std::uint32_t>& gaps = scene.wall_lines()[wall.line].gaps;
  for (std::size_t i = 0; i < through.size(); ++i) {
    through_gaps += through[i];
    add(through[i], gaps[i], scene.gaps()[gaps[i]].element);
  }
  const double kept_back = std::max(0.0, 1 - through_gaps);
  if (wall.beside[0] == kNone) {
    add(kept_back, kNone, wall.element);
  } else {
    for (const std::uint32_t element : wall.beside) add(kept_back / 2, kNone, element);
  }
  // A power too small for a double is that of solid metal without a gap: its loss in decibels still is a
  // number.
  result.loss_db = total > 0 ? -10 * std::log10(total) : loss_db(wall.element);
  if (total > 0) result.share = most / total;
  return result;
}

BodyShading body_shading(const Scene& scene, Point3 a, Point3 b, const Crossing& crossing) {
  if (b < a) std::swap(a, b);
  const double through_db = scene.elements()[crossing.element].transmission.loss_db(1);
  if (a.plan() == b.plan()) return {through_db, 1};
  const Body& body = scene.bodies()[crossing.body];
  const Sight sight{a, b, std::max(distance(a, b), 1e-3), wavelength_m(scene.radio().frequency_hz)};
  const double f = crossing.fraction;
  const Point3 inside{a.x + f * (b.x - a.x), a.y + f * (b.y - a.y), a.z + f * (b.z - a.z)};
  // Round a side, the way must clear the corner that stands out most.
  OpeningEdge left{0, 1}, right{0, 1};
  for (const Point2 corner : body.outline) {
    const OpeningEdge edge = sight.edge({corner.x, corner.y, inside.z}, true);
    OpeningEdge& most = side(a.plan(), b.plan(), corner) >= 0 ? left : right;
    if (edge.v > most.v) most = edge;
  }
  const OpeningEdge top = sight.edge({inside.x, inside.y, body.top_m}, true);
  double round = 0;  // three quarters at most
  for (const OpeningEdge& edge : {left, right, top})
    round += edge.shortness * std::norm(half_plane_share(edge.v));
  const double through = (1 - round) * power(through_db);
  const double total = round + through;
  return {-10 * std::log10(total), total > 0 ? through / total : 1};
}

}  // namespace linkmargin
