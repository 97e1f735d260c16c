#include "linkmargin/link/route_map.hpp"

#include "linkmargin/link/path.hpp"
#include "linkmargin/link/scene.hpp"

#include <boost/graph/compressed_sparse_row_graph.hpp>
#include <boost/graph/dijkstra_shortest_paths.hpp>
#include <boost/property_map/function_property_map.hpp>

#include <algorithm>
#include <limits>
#include <utility>

namespace linkmargin {
namespace {

constexpr double kFar = std::numeric_limits<double>::infinity();

struct Leg {
  double cost_db = 0;
};

using Csr = boost::compressed_sparse_row_graph<boost::directedS, boost::no_property, Leg, boost::no_property,
                                               std::uint32_t, std::uint32_t>;

/// Vertex 4 * gap + 2 * side + sense; two more stand for the ends of a query.
std::uint32_t arriving(std::uint32_t gap, bool left) {
  return 4 * gap + (left ? 2 : 0);
}
std::uint32_t leaving(std::uint32_t gap, bool left) {
  return arriving(gap, left) + 1;
}

bool is_left(const Gap& gap, Point3 p) {
  return dot(gap.normal, p.plan() - gap.base.a) > 0;
}

}  // namespace

struct RouteMap::Graph {
  Csr csr;
};

Point3 RouteMap::foot(const Scene& scene, std::uint32_t gap, bool left) {
  const Gap& g = scene.gaps()[gap];
  // Of a free end or a top, only the first half metre carries much; of an opening, its middle.
  const double size = length(g.base);
  const Point2 middle = at_fraction(g.base, g.edge_b || !g.edge_a ? 0.5 : std::min(0.5, 0.25 / size));
  const Point2 plan = middle + (left ? kFootM : -kFootM) * g.normal;
  const double height_m = g.edge_bottom && !g.edge_top ? g.bottom_m + 0.25 : (g.bottom_m + g.top_m) / 2;
  return {plan.x, plan.y, height_m};
}

double leg_cost_db(const Scene& scene, Point3 a, Point3 b, std::uint32_t wall_a, std::uint32_t wall_b) {
  const Path path = trace(scene, a, b);
  double cost_db = kLegCostDbPerM * path.distance_m;
  for (const Crossing& crossing : path.crossings) {
    if (crossing.element == kNone) continue;
    if (crossing.wall != kNone && (crossing.wall == wall_a || crossing.wall == wall_b)) continue;
    cost_db += scene.elements()[crossing.element].transmission.loss_db(crossing.incidence_cos);
  }
  return cost_db;
}

RouteMap::RouteMap(const Scene& scene) {
  std::vector<std::pair<std::uint32_t, std::uint32_t>> edges;
  std::vector<Leg> legs;
  const auto add = [&](std::uint32_t from, std::uint32_t to, double cost_db) {
    edges.emplace_back(from, to);
    legs.push_back({cost_db});
  };
  const auto count = static_cast<std::uint32_t>(scene.gaps().size());
  for (std::uint32_t i = 0; i < count; ++i) {
    const Gap& one = scene.gaps()[i];
    const double leaf_db = one.element == kNone ? 0 : scene.elements()[one.element].transmission.loss_db(1);
    for (const bool left : {false, true}) add(arriving(i, left), leaving(i, !left), leaf_db + kGapCostDb);
    for (std::uint32_t j = i + 1; j < count; ++j) {
      const Gap& other = scene.gaps()[j];
      if (distance(one.base.a, other.base.a) > kLongestLegM) continue;
      // The sides that face each other; of two gaps in one line of wall, both pairs.
      for (const bool side_i : {false, true}) {
        for (const bool side_j : {false, true}) {
          const Point3 foot_i = foot(scene, i, side_i);
          const Point3 foot_j = foot(scene, j, side_j);
          if (is_left(one, foot_j) != side_i || is_left(other, foot_i) != side_j) continue;
          const double cost_db = leg_cost_db(scene, foot_i, foot_j, one.wall, other.wall);
          if (cost_db > kDearestLegDb) continue;
          add(leaving(i, side_i), arriving(j, side_j), cost_db);
          add(leaving(j, side_j), arriving(i, side_i), cost_db);
        }
      }
    }
  }
  graph_ = std::make_shared<const Graph>(
      Graph{Csr(boost::edges_are_unsorted_multi_pass, edges.begin(), edges.end(), legs.begin(), 4 * count)});
}

RouteMap::Origin::Origin(const RouteMap& map, const Scene& scene, Point3 at)
    : at_(at), legs_(scene.gaps().size(), kFar) {
  for (std::uint32_t gap = 0; gap < legs_.size(); ++gap) {
    const Gap& g = scene.gaps()[gap];
    const Point3 there = foot(scene, gap, is_left(g, at));
    if (distance(at, there) <= kLongestLegM) legs_[gap] = leg_cost_db(scene, at, there, kNone, g.wall);
  }
  map.search(scene, *this, std::vector<bool>(legs_.size()), kFar, cost_, before_);
}

RouteMap::Query::Query(const RouteMap& map, const Scene& scene, const Origin& origin, Point3 to,
                       double budget_db)
    : map_(map),
      scene_(scene),
      origin_(origin),
      to_(to),
      budget_db_(budget_db),
      to_costs_(scene.gaps().size(), kFar),
      closed_(scene.gaps().size()) {
  for (std::uint32_t gap = 0; gap < to_costs_.size(); ++gap) {
    const Gap& g = scene_.gaps()[gap];
    const bool left = is_left(g, to_);
    const double so_far_db = origin_.cost_[leaving(gap, left)];
    if (so_far_db > budget_db_) continue;
    const Point3 there = foot(scene_, gap, left);
    const double length_m = distance(to_, there);
    if (length_m > kLongestLegM || so_far_db + kLegCostDbPerM * length_m > budget_db_) continue;
    to_costs_[gap] = leg_cost_db(scene_, to_, there, kNone, g.wall);
  }
}

RouteMap::Way RouteMap::Query::next() {
  std::vector<double> searched_cost;
  std::vector<std::uint32_t> searched_before;
  if (!first_) map_.search(scene_, origin_, closed_, budget_db_, searched_cost, searched_before);
  const std::vector<double>& cost = first_ ? origin_.cost_ : searched_cost;
  const std::vector<std::uint32_t>& before = first_ ? origin_.before_ : searched_before;
  first_ = false;

  Way best{{}, budget_db_};
  std::uint32_t last = 0;
  bool found = false;
  for (std::uint32_t gap = 0; gap < to_costs_.size(); ++gap) {
    if (to_costs_[gap] == kFar) continue;
    const std::uint32_t end = leaving(gap, is_left(scene_.gaps()[gap], to_));
    if (cost[end] + to_costs_[gap] >= best.cost_db) continue;
    best.cost_db = cost[end] + to_costs_[gap];
    last = end;
    found = true;
  }
  if (!found) return {};
  for (std::uint32_t vertex = last;; vertex = before[vertex]) {
    if (vertex % 2 == 0) best.passes.push_back({vertex / 4, vertex % 4 == 2});
    if (before[vertex] == vertex) break;  // a start is its own
  }
  std::ranges::reverse(best.passes);
  for (const Pass& pass : best.passes) closed_[pass.gap] = true;
  return best;
}

void RouteMap::search(const Scene& scene, const Origin& origin, const std::vector<bool>& closed,
                      double budget_db, std::vector<double>& cost, std::vector<std::uint32_t>& before) const {
  cost.assign(4 * closed.size(), kFar);
  before.assign(cost.size(), 0);
  std::vector<std::uint32_t> starts;
  for (std::uint32_t gap = 0; gap < closed.size(); ++gap) {
    if (closed[gap] || origin.legs_[gap] == kFar || origin.legs_[gap] > budget_db) continue;
    const std::uint32_t start = arriving(gap, is_left(scene.gaps()[gap], origin.at_));
    cost[start] = origin.legs_[gap];
    before[start] = start;
    starts.push_back(start);
  }
  if (starts.empty()) return;
  const Csr& csr = graph_->csr;
  const auto weight =
      boost::make_function_property_map<Csr::edge_descriptor>([&](const Csr::edge_descriptor& edge) {
        return closed[boost::target(edge, csr) / 4] ? kFar : csr[edge].cost_db;
      });
  const auto within_budget = [&](double so_far_db, double leg_db) {
    const double sum_db = so_far_db + leg_db;
    return sum_db <= budget_db ? sum_db : kFar;
  };
  const auto index = boost::get(boost::vertex_index, csr);
  std::vector<boost::default_color_type> colours(cost.size());
  boost::dijkstra_shortest_paths_no_init(
      csr, starts.begin(), starts.end(), boost::make_iterator_property_map(before.begin(), index),
      boost::make_iterator_property_map(cost.begin(), index), weight, index, std::less<double>(),
      within_budget, 0.0, boost::default_dijkstra_visitor(),
      boost::make_iterator_property_map(colours.begin(), index));
}

}  // namespace linkmargin
