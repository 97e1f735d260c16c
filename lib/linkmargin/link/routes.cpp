#include "linkmargin/link/routes.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/base/units.hpp"
#include "linkmargin/link/corners.hpp"
#include "linkmargin/link/distance_model.hpp"
#include "linkmargin/link/loss_item.hpp"
#include "linkmargin/link/shading.hpp"

#include <algorithm>
#include <cmath>
#include <string>

namespace linkmargin {
namespace {

/// The search's costs leave the bends out; a way is reckoned only when even so it may matter.
constexpr double kSearchSlackDb = 3;

/// Ways looked at for the few that are kept: some of the cheapest are the straight line's own.
constexpr int kMostTries = 6;

/// Where a way from `before` to `after` passes a gap: the point of it nearest to their straight line, off its
/// edges.
Point3 turn_in(const Gap& gap, Point3 before, Point3 after) {
  constexpr double kOffEdgeM = 0.02;
  const double a = dot(gap.normal, before.plan() - gap.base.a);
  const double b = dot(gap.normal, after.plan() - gap.base.a);
  const double fraction = a == b ? 0.5 : std::clamp(a / (a - b), 0.0, 1.0);
  const Point2 meets = before.plan() + fraction * (after.plan() - before.plan());
  const double size = length(gap.base);
  const double inset = std::min(0.5, kOffEdgeM / size);
  const Point2 unit = (1 / size) * (gap.base.b - gap.base.a);
  const double along = std::clamp(dot(meets - gap.base.a, unit) / size, inset, 1 - inset);
  const Point2 plan = at_fraction(gap.base, along);
  const double z = before.z + fraction * (after.z - before.z);
  const double off_level_m = std::min((gap.top_m - gap.bottom_m) / 2, kOffEdgeM);
  return {plan.x, plan.y, std::clamp(z, gap.bottom_m + off_level_m, gap.top_m - off_level_m)};
}

/// What corners change by less than this is not worth a line of its own.
constexpr double kLeastChangeDb = 0.05;

class RouteReckoner {
 public:
  RouteReckoner(const Scene& scene, const Path& path) : scene_(scene), from_(path.from), to_(path.to) {}

  Route reckon(const std::vector<RouteMap::Pass>& passes) {
    const std::vector<Point3> points = bent_line(passes);
    double length_m = 0;
    for (std::size_t i = 0; i + 1 < points.size(); ++i) length_m += distance(points[i], points[i + 1]);
    Route route;
    DistanceTerm term = distance_term(scene_.radio(), length_m, {}, false);
    route.items.push_back(
        {.cause = LossCause::distance,
         .name = term.name + ", " + fixed_text(length_m, 1) + " m by way of " + gap(passes[0]).name,
         .material = {},
         .loss_db = term.loss_db,
         .sigma_db = term.sigma_db,
         .incidence_deg = 0});
    for (std::size_t i = 0; i <= passes.size(); ++i) {
      const bool first = i == 0, last = i == passes.size();
      add_leg(route, first ? points[i] : beside(passes[i - 1], points[i], !passes[i - 1].from_left),
              last ? points[i + 1] : beside(passes[i], points[i + 1], passes[i].from_left),
              first ? kNone : gap(passes[i - 1]).wall, last ? kNone : gap(passes[i]).wall);
      if (!last) add_turn(route, gap(passes[i]), points[i], points[i + 1], points[i + 2]);
    }
    for (const LossItem& item : route.items) route.loss_db += item.loss_db;
    return route;
  }

 private:
  const Gap& gap(const RouteMap::Pass& pass) const { return scene_.gaps()[pass.gap]; }

  /// A turn, moved off the wall's line to one side, where no joining wall ends.
  Point3 beside(const RouteMap::Pass& pass, Point3 turn, bool left) const {
    const Point2 plan = turn.plan() + (left ? kFootM : -kFootM) * gap(pass).normal;
    return {plan.x, plan.y, turn.z};
  }

  /// From end to end by way of the gaps, drawn tight.
  std::vector<Point3> bent_line(const std::vector<RouteMap::Pass>& passes) const {
    std::vector<Point3> points{from_};
    for (const RouteMap::Pass& pass : passes)
      points.push_back(RouteMap::foot(scene_, pass.gap, pass.from_left));
    points.push_back(to_);
    constexpr int kSweeps = 3;
    for (int sweep = 0; sweep < kSweeps; ++sweep) {
      for (std::size_t i = 0; i < passes.size(); ++i) {
        points[i + 1] = turn_in(gap(passes[i]), points[i], points[i + 2]);
      }
    }
    return points;
  }

  void add_leg(Route& route, Point3 a, Point3 b, std::uint32_t wall_a, std::uint32_t wall_b) const {
    const Path leg = trace(scene_, a, b);
    std::vector<LossItem> items;
    for (const Crossing& crossing : leg.crossings) {
      const bool own = crossing.wall != kNone && (crossing.wall == wall_a || crossing.wall == wall_b);
      if (crossing.element == kNone || own) continue;
      items.push_back(loss_item(scene_.elements()[crossing.element], crossing.incidence_cos));
    }
    double passed_db = 0;
    for (const LossItem& item : items) passed_db += item.loss_db;
    const double change_db = corner_change_db(scene_, leg, passed_db);
    if (std::abs(change_db) >= kLeastChangeDb) {
      items.push_back({.cause = LossCause::route,
                       .name = "corners beside the line",
                       .material = {},
                       .loss_db = change_db,
                       .sigma_db = 0,
                       .incidence_deg = 0});
    }
    if (leg.from != snapped_in_plan(a)) std::ranges::reverse(items);
    std::ranges::move(items, std::back_inserter(route.items));
  }

  /// The leaf, and what the bend costs over free space along the bent line.
  void add_turn(Route& route, const Gap& g, Point3 before, Point3 at, Point3 after) const {
    if (g.element != kNone) route.items.push_back(loss_item(scene_.elements()[g.element], 1));
    const double share = gap_share(g, before, after, wavelength_m(scene_.radio().frequency_hz));
    const double bent_m = distance(before, at) + distance(at, after);
    const double straight_m = std::max(distance(before, after), kNearestM);
    const double bend_db = -10 * std::log10(std::max(share, 1e-12)) - 20 * std::log10(bent_m / straight_m);
    route.items.push_back({.cause = LossCause::route,
                           .name = "bend at " + g.name,
                           .material = {},
                           .loss_db = bend_db,
                           .sigma_db = 0,
                           .incidence_deg = 0});
  }

  const Scene& scene_;
  Point3 from_;
  Point3 to_;
};

/// The same way from its other end.
void turn_round(std::vector<RouteMap::Pass>& passes) {
  std::ranges::reverse(passes);
  for (RouteMap::Pass& pass : passes) pass.from_left = !pass.from_left;
}

bool counted_by_shading(const Scene& scene, const Path& path, const std::vector<RouteMap::Pass>& passes) {
  return std::ranges::all_of(passes, [&](const RouteMap::Pass& pass) {
    return std::ranges::any_of(path.crossings, [&](const Crossing& crossing) {
      return crossing.wall == scene.gaps()[pass.gap].wall;
    });
  });
}

}  // namespace

bool counts_routes(const Environment& radio) {
  return radio.routes && radio.model == PathLossModel::walls;
}

std::vector<Route> routes(const Vantage& from, const Path& path, double direct_db) {
  const Scene& scene = from.scene();
  const double in_sight_db = distance_term(scene.radio(), path.distance_m, {}, true).loss_db;
  const bool forward = from.at() == path.from;
  RouteMap::Query query(scene.route_map(), scene, from.origin(), forward ? path.to : path.from);
  double most_db = direct_db + kNegligibleDb;
  std::vector<Route> found;
  for (int tries = 0; tries < kMostTries && found.size() < kMostRoutes; ++tries) {
    RouteMap::Way way = query.next(most_db - in_sight_db + kLegCostDbPerM * path.distance_m + kSearchSlackDb);
    if (way.passes.empty()) break;
    if (counted_by_shading(scene, path, way.passes)) continue;
    if (!forward) turn_round(way.passes);
    Route route = RouteReckoner(scene, path).reckon(way.passes);
    if (route.loss_db > most_db) continue;
    most_db = std::min(most_db, route.loss_db + kNegligibleDb);
    found.push_back(std::move(route));
  }
  std::ranges::stable_sort(found, {}, &Route::loss_db);
  return found;
}

}  // namespace linkmargin
