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

RouteMap::Query::Query(const RouteMap& map, const Scene& scene, const Origin& origin, Point3 to)
    : map_(map),
      scene_(scene),
      origin_(origin),
      to_(to),
      legs_(scene.gaps().size(), -1),
      closed_(scene.gaps().size()) {
  open();
}

/// Equal costs in the order of the gaps, so that the answer does not hang on the heap.
bool RouteMap::Query::dearer(const Last& left, const Last& right) {
  return std::pair(left.cost_db, left.gap) > std::pair(right.cost_db, right.gap);
}

double RouteMap::Query::cost_to(std::uint32_t gap) const {
  return (searched_ ? cost_ : origin_.cost_)[leaving(gap, is_left(scene_.gaps()[gap], to_))];
}

void RouteMap::Query::open() {
  open_.clear();
  for (std::uint32_t gap = 0; gap < closed_.size(); ++gap) {
    if (closed_[gap]) continue;
    const double so_far_db = cost_to(gap);
    if (so_far_db == kFar) continue;
    const double length_m = distance(to_, foot(scene_, gap, is_left(scene_.gaps()[gap], to_)));
    if (length_m > kLongestLegM) continue;
    const bool known = legs_[gap] >= 0;
    open_.push_back({so_far_db + (known ? legs_[gap] : kLegCostDbPerM * length_m), gap, known});
  }
  std::ranges::make_heap(open_, dearer);
}

RouteMap::Way RouteMap::Query::next(double budget_db) {
  while (!open_.empty() && open_.front().cost_db <= budget_db) {
    std::ranges::pop_heap(open_, dearer);
    Last last = open_.back();
    open_.pop_back();
    if (closed_[last.gap]) continue;
    const Gap& gap = scene_.gaps()[last.gap];
    if (!last.known) {
      legs_[last.gap] = leg_cost_db(scene_, to_, foot(scene_, last.gap, is_left(gap, to_)), kNone, gap.wall);
      open_.push_back({cost_to(last.gap) + legs_[last.gap], last.gap, true});
      std::ranges::push_heap(open_, dearer);
      continue;
    }
    // The costs hold as long as no way that is given out crosses; else they are found anew without its gaps.
    Way way{passes_to(last.gap), last.cost_db};
    if (std::ranges::any_of(way.passes, [&](const Pass& pass) { return closed_[pass.gap]; })) {
      map_.search(scene_, origin_, closed_, budget_db, cost_, before_);
      searched_ = true;
      open();
      continue;
    }
    for (const Pass& pass : way.passes) closed_[pass.gap] = true;
    return way;
  }
  return {};
}

std::vector<RouteMap::Pass> RouteMap::Query::passes_to(std::uint32_t gap) const {
  const std::vector<std::uint32_t>& before = searched_ ? before_ : origin_.before_;
  std::vector<Pass> passes;
  for (std::uint32_t vertex = leaving(gap, is_left(scene_.gaps()[gap], to_));; vertex = before[vertex]) {
    if (vertex % 2 == 0) passes.push_back({vertex / 4, vertex % 4 == 2});
    if (before[vertex] == vertex) break;  // a start is its own
  }
  std::ranges::reverse(passes);
  return passes;
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
