#include "linkmargin/link/route_map.hpp"

#include "linkmargin/link/path.hpp"
#include "linkmargin/link/scene.hpp"
#include "linkmargin/link/slab_bound.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <queue>
#include <tuple>
#include <utility>

namespace linkmargin {
namespace {

/// Vertex 4 * gap + 2 * side + sense.
std::uint32_t arriving(std::uint32_t gap, bool left) {
  return 4 * gap + (left ? 2 : 0);
}
std::uint32_t leaving(std::uint32_t gap, bool left) {
  return arriving(gap, left) + 1;
}

bool is_left(const Gap& gap, Point3 p) {
  return dot(gap.normal, p.plan() - gap.base.a) > 0;
}

Point3 foot_of(const Gap& g, bool left) {
  // Of a free end or a top, only the first half metre carries much; of an opening, its middle.
  const double size = length(g.base);
  const Point2 middle = at_fraction(g.base, g.edge_b || !g.edge_a ? 0.5 : std::min(0.5, 0.25 / size));
  const Point2 plan = middle + (left ? kFootM : -kFootM) * g.normal;
  const double height_m = g.edge_bottom && !g.edge_top ? g.bottom_m + 0.25 : (g.bottom_m + g.top_m) / 2;
  return {plan.x, plan.y, height_m};
}

struct Leg {
  double cost_db = 0;
  int slabs = 0;
};

Leg leg_of(const Scene& scene, Point3 a, Point3 b, std::uint32_t line_a, std::uint32_t line_b) {
  const Path path = trace(scene, a, b);
  Leg leg{.cost_db = kLegCostDbPerM * path.distance_m};
  for (const Crossing& crossing : path.crossings) {
    if (crossing.element == kNone) continue;
    const std::uint32_t line = crossing.wall == kNone ? kNone : scene.walls()[crossing.wall].line;
    if (line != kNone && (line == line_a || line == line_b)) continue;
    leg.cost_db += plain_loss_db(scene, crossing);
    if (scene.elements()[crossing.element].cause == LossCause::floor) ++leg.slabs;
  }
  return leg;
}

/// From gap to gap a way passes one slab at most; from storey to storey it goes by a gap of each. What straight
/// lines through two slabs and more would add, ways of one storey after the other add as well.
constexpr int kMostSlabsALeg = 1;

}  // namespace

double leg_cost_db(const Scene& scene, Point3 a, Point3 b, std::uint32_t line_a, std::uint32_t line_b) {
  return leg_of(scene, a, b, line_a, line_b).cost_db;
}

RouteMap::RouteMap(const Scene& scene) {
  const auto count = static_cast<std::uint32_t>(scene.gaps().size());
  for (const Gap& gap : scene.gaps()) {
    for (const bool left : {false, true}) feet_.push_back(foot_of(gap, left));
  }
  edges_.resize(4 * static_cast<std::size_t>(count));
  for (std::uint32_t i = 0; i < count; ++i) {
    const std::uint32_t leaf = scene.gaps()[i].element;
    const double leaf_db = leaf == kNone ? 0 : scene.elements()[leaf].transmission.loss_db(1);
    for (const bool left : {false, true})
      edges_[arriving(i, left)].push_back({leaving(i, !left), leaf_db + kGapCostDb});
  }
  // Only those that stand close enough in height, and in plan, are looked at.
  std::vector<std::uint32_t> order(count);
  std::iota(order.begin(), order.end(), 0U);
  std::erase_if(order, [&](std::uint32_t gap) { return scene.gaps()[gap].at_eaves; });
  const auto height_m = [&](std::uint32_t gap) { return foot(gap, false).z; };
  std::ranges::stable_sort(order, {}, height_m);
  const SlabBound slabs(scene);
  for (std::size_t m = 0; m < order.size(); ++m) {
    const Point3 at = foot(order[m], false);
    for (std::size_t n = m + 1; n < order.size(); ++n) {
      const Point3 to = foot(order[n], false);
      if (to.z - at.z > kLongestLegM) break;
      if (std::max(std::abs(to.x - at.x), std::abs(to.y - at.y)) > kLongestLegM + 4 * kFootM) continue;
      add_legs(scene, slabs, std::min(order[m], order[n]), std::max(order[m], order[n]));
    }
  }
}

/// Between the sides of two gaps that face each other; of two gaps in one line of wall, both pairs.
void RouteMap::add_legs(const Scene& scene, const SlabBound& slabs, std::uint32_t i, std::uint32_t j) {
  const Gap& one = scene.gaps()[i];
  const Gap& other = scene.gaps()[j];
  for (const bool side_i : {false, true}) {
    for (const bool side_j : {false, true}) {
      const Point3 foot_i = foot(i, side_i);
      const Point3 foot_j = foot(j, side_j);
      if (is_left(one, foot_j) != side_i || is_left(other, foot_i) != side_j) continue;
      const double length_m = distance(foot_i, foot_j);
      const double slabs_least_db = kDearestLegDb - kLegCostDbPerM * length_m;
      if (length_m > kLongestLegM || slabs.least_db(foot_i, foot_j, slabs_least_db) > slabs_least_db) continue;
      if (slabs.closed(foot_i, foot_j) > kMostSlabsALeg) continue;
      const Leg leg = leg_of(scene, foot_i, foot_j, one.line, other.line);
      if (leg.cost_db > kDearestLegDb || leg.slabs > kMostSlabsALeg) continue;
      edges_[leaving(i, side_i)].push_back({arriving(j, side_j), leg.cost_db});
      edges_[leaving(j, side_j)].push_back({arriving(i, side_i), leg.cost_db});
    }
  }
}

/// Dijkstra's search from all gaps that the end can go to first, where a vertex is settled once for each of
/// the kMostStarts cheapest of them.
RouteMap::Origin::Origin(const RouteMap& map, const Scene& scene, Point3 at) : labels_(map.edges_.size()) {
  struct Open {
    double cost_db;
    std::uint32_t vertex;
    Label label;
  };
  const auto dearer = [](const Open& left, const Open& right) {
    return std::tie(left.cost_db, left.vertex, left.label.start) >
           std::tie(right.cost_db, right.vertex, right.label.start);
  };
  std::priority_queue<Open, std::vector<Open>, decltype(dearer)> open(dearer);
  const auto settled = [&](std::uint32_t vertex, std::uint32_t start, double cost_db) {
    const std::vector<Label>& labels = labels_[vertex];
    if (labels.empty()) return false;
    return labels.size() == kMostStarts || cost_db > labels.front().cost_db + kDearerByDb ||
           std::ranges::find(labels, start, &Label::start) != labels.end();
  };
  for (std::uint32_t gap = 0; gap < scene.gaps().size(); ++gap) {
    if (scene.gaps()[gap].at_eaves) continue;
    const bool left = is_left(scene.gaps()[gap], at);
    const Point3 there = map.foot(gap, left);
    if (distance(at, there) > kLongestLegM) continue;
    const double leg_db = leg_cost_db(scene, at, there, kNone, scene.gaps()[gap].line);
    const std::uint32_t start = arriving(gap, left);
    open.push({leg_db, start, {leg_db, start, start, 0}});
  }
  while (!open.empty()) {
    const Open next = open.top();
    open.pop();
    if (settled(next.vertex, next.label.start, next.cost_db)) continue;
    const auto position = static_cast<std::uint32_t>(labels_[next.vertex].size());
    labels_[next.vertex].push_back(next.label);
    for (const Edge& edge : map.edges_[next.vertex]) {
      const double cost_db = next.cost_db + edge.cost_db;
      if (settled(edge.to, next.label.start, cost_db)) continue;
      open.push({cost_db, edge.to, {cost_db, next.label.start, next.vertex, position}});
    }
  }
}

RouteMap::Query::Query(const Scene& scene, const Origin& origin, Point3 to)
    : scene_(scene), origin_(origin), to_(to), closed_(scene.gaps().size()) {
  for (std::uint32_t gap = 0; gap < closed_.size(); ++gap) {
    const std::span<const Label> ways = labels(gap);
    if (ways.empty()) continue;
    const double length_m = distance(to_, scene_.route_map().foot(gap, is_left(scene_.gaps()[gap], to_)));
    if (length_m > kLongestLegM) continue;
    open_.push_back({ways.front().cost_db + kLegCostDbPerM * length_m, gap});
  }
  std::ranges::make_heap(open_, dearer);
}

/// Equal costs in the order of the gaps, so that the answer does not hang on the heap.
bool RouteMap::Query::dearer(const Last& left, const Last& right) {
  return std::pair(left.cost_db, left.gap) > std::pair(right.cost_db, right.gap);
}

void RouteMap::Query::push(const Last& last) {
  open_.push_back(last);
  std::ranges::push_heap(open_, dearer);
}

std::span<const RouteMap::Label> RouteMap::Query::labels(std::uint32_t gap) const {
  return origin_.labels_[leaving(gap, is_left(scene_.gaps()[gap], to_))];
}

RouteMap::Way RouteMap::Query::next(double budget_db) {
  while (!open_.empty() && open_.front().cost_db <= budget_db) {
    std::ranges::pop_heap(open_, dearer);
    Last last = open_.back();
    open_.pop_back();
    if (closed_[last.gap]) continue;
    const std::span<const Label> ways = labels(last.gap);
    if (last.leg_db < 0) {
      const Gap& gap = scene_.gaps()[last.gap];
      const Point3 there = scene_.route_map().foot(last.gap, is_left(gap, to_));
      last.leg_db = leg_cost_db(scene_, to_, there, kNone, gap.line);
      last.cost_db = ways.front().cost_db + last.leg_db;
      push(last);
      continue;
    }
    Way way{passes(last), last.cost_db};
    if (std::ranges::any_of(way.passes, [&](const Pass& pass) { return closed_[pass.gap]; })) {
      if (++last.label == ways.size()) continue;
      last.cost_db = ways[last.label].cost_db + last.leg_db;
      push(last);
      continue;
    }
    for (const Pass& pass : way.passes) closed_[pass.gap] = true;
    return way;
  }
  return {};
}

std::vector<RouteMap::Pass> RouteMap::Query::passes(const Last& last) const {
  std::vector<Pass> passes;
  std::uint32_t vertex = leaving(last.gap, is_left(scene_.gaps()[last.gap], to_));
  std::uint32_t position = last.label;
  while (true) {
    if (vertex % 2 == 0) passes.push_back({vertex / 4, vertex % 4 == 2});
    const Label& label = origin_.labels_[vertex][position];
    if (label.before == vertex) break;
    vertex = label.before;
    position = label.before_label;
  }
  std::ranges::reverse(passes);
  return passes;
}

}  // namespace linkmargin
