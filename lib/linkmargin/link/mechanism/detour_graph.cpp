#include "linkmargin/link/mechanism/detour_graph.hpp"

#include "linkmargin/base/parallel.hpp"
#include "linkmargin/link/building/building.hpp"
#include "linkmargin/link/building/path.hpp"
#include "linkmargin/link/building/slab_bound.hpp"
#include "linkmargin/link/mechanism/aperture_diffraction.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <compare>
#include <limits>
#include <numeric>
#include <queue>
#include <span>
#include <tuple>
#include <utility>

namespace linkmargin {
namespace {

bool is_left(const Aperture& aperture, Point3 p) {
  return dot(aperture.normal, p.plan() - aperture.base.a) > 0;
}

Point3 foot_of(const Aperture& g, bool left) {
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

Leg leg_of(const Building& building, Point3 a, Point3 b, std::uint32_t line_a, std::uint32_t line_b) {
  thread_local std::vector<Crossing> met;  // asked for every last leg: no memory asked for each
  find_crossings(building, a, b, met);
  Leg leg{.cost_db = kLegCostDbPerM * distance(snapped_in_plan(a), snapped_in_plan(b))};
  for (const Crossing& crossing : met) {
    if (crossing.barrier == kNone) continue;
    const std::uint32_t line = crossing.wall == kNone ? kNone : building.walls()[crossing.wall].line;
    if (line != kNone && (line == line_a || line == line_b)) continue;
    leg.cost_db += plain_loss_db(building, crossing);
    if (building.barriers()[crossing.barrier].cause == LossCause::floor) ++leg.slabs;
  }
  return leg;
}

/// From aperture to aperture a way passes one slab at most; from storey to storey it goes by an aperture of
/// each. What straight lines through two slabs and more would add, ways of one storey after the other add as
/// well.
constexpr int kMostSlabsALeg = 1;  ///< doubled or halved, no loss moves

}  // namespace

double leg_cost_db(const Building& building, Point3 a, Point3 b, std::uint32_t line_a, std::uint32_t line_b) {
  return leg_of(building, a, b, line_a, line_b).cost_db;
}

DetourGraph::DetourGraph(const Building& building, int threads) {
  const auto count = static_cast<std::uint32_t>(building.apertures().size());
  for (const Aperture& aperture : building.apertures()) {
    gates_.push_back({aperture.base.a, aperture.normal});
    for (const bool left : {false, true}) entry_points_.push_back(foot_of(aperture, left));
  }
  edges_.resize(4 * static_cast<std::size_t>(count));
  for (std::uint32_t i = 0; i < count; ++i) {
    const std::uint32_t leaf = building.apertures()[i].barrier;
    const double leaf_db = leaf == kNone ? 0 : building.barriers()[leaf].transmission.loss_db(1);
    const double contrast_db =
        -10 * std::log10(std::max(contrast(building, building.apertures()[i]), kLeastShare));
    for (const bool left : {false, true})
      edges_[arriving(i, left)].push_back({leaving(i, !left), leaf_db + contrast_db + kApertureCostDb});
  }
  // Only those that stand close enough in height, and in plan, are looked at.
  std::vector<std::uint32_t> order(count);
  std::iota(order.begin(), order.end(), 0U);
  std::erase_if(order, [&](std::uint32_t aperture) { return building.apertures()[aperture].at_eaves; });
  const auto height_m = [&](std::uint32_t aperture) { return entry_point(aperture, false).z; };
  std::ranges::stable_sort(order, {}, height_m);
  const SlabBound slabs(building);
  std::vector<std::vector<FoundLeg>> legs(order.size());
  parallel_for(order.size(), threads, [&](std::size_t m) {
    const Point3 at = entry_point(order[m], false);
    for (std::size_t n = m + 1; n < order.size(); ++n) {
      const Point3 to = entry_point(order[n], false);
      if (to.z - at.z > kLongestLegM) break;
      if (std::max(std::abs(to.x - at.x), std::abs(to.y - at.y)) > kLongestLegM + 4 * kFootM) continue;
      find_legs(building, slabs, std::min(order[m], order[n]), std::max(order[m], order[n]), legs[m]);
    }
  });
  for (const std::vector<FoundLeg>& found : legs) {
    for (const FoundLeg& leg : found) {
      edges_[leaving(leg.i, leg.left_of_i)].push_back({arriving(leg.j, leg.left_of_j), leg.cost_db});
      edges_[leaving(leg.j, leg.left_of_j)].push_back({arriving(leg.i, leg.left_of_i), leg.cost_db});
    }
  }
}

/// Between the sides of two apertures that face each other; of two apertures in one line of wall, both pairs.
void DetourGraph::find_legs(const Building& building, const SlabBound& slabs, std::uint32_t i,
                            std::uint32_t j, std::vector<FoundLeg>& found) const {
  const Aperture& one = building.apertures()[i];
  const Aperture& other = building.apertures()[j];
  for (const bool side_i : {false, true}) {
    for (const bool side_j : {false, true}) {
      const Point3 foot_i = entry_point(i, side_i);
      const Point3 foot_j = entry_point(j, side_j);
      if (is_left(one, foot_j) != side_i || is_left(other, foot_i) != side_j) continue;
      const double length_m = distance(foot_i, foot_j);
      const double slabs_least_db = kDearestLegDb - kLegCostDbPerM * length_m;
      if (length_m > kLongestLegM || slabs.least_db(foot_i, foot_j, slabs_least_db) > slabs_least_db)
        continue;
      if (slabs.closed(foot_i, foot_j) > kMostSlabsALeg) continue;
      const Leg leg = leg_of(building, foot_i, foot_j, one.line, other.line);
      if (leg.cost_db > kDearestLegDb || leg.slabs > kMostSlabsALeg) continue;
      found.push_back({i, j, side_i, side_j, leg.cost_db});
    }
  }
}

namespace {

/// The cheapest ways to a vertex that are known, each from another start.
class CheapestStarts {
 public:
  /// @return whether it is one of the kMostStarts cheapest, and cheaper than what was known from its start;
  /// it is kept then
  bool take(std::uint32_t start, double cost_db) {
    if (cost_db > most_db_) return false;
    const auto same = std::ranges::find(kept(), start, &Known::start);
    if (same != kept().end()) {
      if (cost_db >= same->cost_db) return false;
      *same = {cost_db, start};
    } else if (count_ < kMostStarts) {
      known_[count_++] = {cost_db, start};
    } else {
      Known& dearest = *std::ranges::max_element(kept());
      if (Known{cost_db, start} >= dearest) return false;
      dearest = {cost_db, start};
    }
    if (count_ == kMostStarts) most_db_ = std::ranges::max_element(kept())->cost_db;
    return true;
  }

  double most_db() const { return most_db_; }  ///< dearer ones are not kept

  /// A way that take() has kept becomes a label, for good.
  /// @return false where a cheaper one came since, or it was one already
  bool settle(std::uint32_t start, double cost_db) {
    const auto known = std::ranges::find(kept(), start, &Known::start);
    if (known == kept().end() || cost_db > known->cost_db) return false;
    known->cost_db = -std::numeric_limits<double>::infinity();
    return true;
  }

 private:
  struct Known {
    double cost_db;
    std::uint32_t start;
    auto operator<=>(const Known&) const = default;
  };
  std::span<Known> kept() { return std::span(known_).first(count_); }

  std::array<Known, kMostStarts> known_;
  std::size_t count_ = 0;
  double most_db_ = std::numeric_limits<double>::infinity();
};

}  // namespace

/// Dijkstra's search from all apertures that the end can go to first, where a vertex is settled once for each
/// of the kMostStarts cheapest of them.
DetourTree::DetourTree(const DetourGraph& map, const Building& building, Point3 at)
    : labels_(map.edges_.size()) {
  struct Open {
    double cost_db;
    std::uint32_t vertex;
    DetourGraph::Label label;
  };
  const auto dearer = [](const Open& left, const Open& right) {
    return std::tie(left.cost_db, left.vertex, left.label.start) >
           std::tie(right.cost_db, right.vertex, right.label.start);
  };
  std::priority_queue<Open, std::vector<Open>, decltype(dearer)> open(dearer);
  std::vector<CheapestStarts> cheapest(labels_.size());
  // Over this a way to a vertex is not wanted: nearly every way that is looked at.
  std::vector<double> most_db(labels_.size(), std::numeric_limits<double>::infinity());
  for (std::uint32_t aperture = 0; aperture < building.apertures().size(); ++aperture) {
    if (building.apertures()[aperture].at_eaves) continue;
    const bool left = is_left(building.apertures()[aperture], at);
    const Point3 there = map.entry_point(aperture, left);
    if (distance(at, there) > kLongestLegM) continue;
    const double leg_db = leg_cost_db(building, at, there, kNone, building.apertures()[aperture].line);
    const std::uint32_t start = DetourGraph::arriving(aperture, left);
    cheapest[start].take(start, leg_db);
    open.push({leg_db, start, {leg_db, start, start, 0}});
  }
  while (!open.empty()) {
    const Open next = open.top();
    open.pop();
    if (next.cost_db > most_db[next.vertex] || !cheapest[next.vertex].settle(next.label.start, next.cost_db))
      continue;
    const auto position = static_cast<std::uint32_t>(labels_[next.vertex].size());
    labels_[next.vertex].push_back(next.label);
    if (position == 0) most_db[next.vertex] = next.cost_db + kDearerByDb;
    if (position + 1 == kMostStarts) most_db[next.vertex] = -std::numeric_limits<double>::infinity();
    for (const DetourGraph::Edge& edge : map.edges_[next.vertex]) {
      const double cost_db = next.cost_db + edge.cost_db;
      if (cost_db > most_db[edge.to] || !cheapest[edge.to].take(next.label.start, cost_db)) continue;
      most_db[edge.to] = std::min(most_db[edge.to], cheapest[edge.to].most_db());
      open.push({cost_db, edge.to, {cost_db, next.label.start, next.vertex, position}});
    }
  }
  for (std::uint32_t aperture = 0; aperture < building.apertures().size(); ++aperture) {
    for (const bool left : {false, true}) {
      const std::vector<DetourGraph::Label>& labels = labels_[DetourGraph::leaving(aperture, left)];
      cheapest_db_.push_back(labels.empty() ? std::numeric_limits<double>::infinity()
                                            : labels.front().cost_db);
    }
  }
}

}  // namespace linkmargin
