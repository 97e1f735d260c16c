#include "linkmargin/link/mechanism/detour_query.hpp"

#include "linkmargin/link/building/building.hpp"
#include "linkmargin/link/mechanism/map_plane.hpp"

#include <algorithm>
#include <utility>

namespace linkmargin {

DetourQuery::DetourQuery(const DetourGraph& graph, const Building& building, const DetourTree& detour_tree,
                         Point3 to, double budget_db, const MapPlane* plane)
    : graph_(graph), building_(building), detour_tree_(detour_tree), plane_(plane), to_(to) {
  for (std::uint32_t aperture = 0; aperture < graph_.gates_.size(); ++aperture) {
    const bool left = graph_.gates_[aperture].is_left(to_);
    const double cheapest_db = detour_tree_.cheapest_db_[2 * aperture + (left ? 1 : 0)];
    if (cheapest_db > budget_db) continue;
    const double length_m = distance(to_, graph_.entry_point(aperture, left));
    const double least_db = cheapest_db + kLegCostDbPerM * length_m;
    if (length_m <= kLongestLegM && least_db <= budget_db) open_.push_back({least_db, aperture});
  }
  std::ranges::make_heap(open_, dearer);
}

/// Equal costs in the order of the apertures, so that the answer does not depend on how the heap is laid out.
bool DetourQuery::dearer(const FrontierEntry& left, const FrontierEntry& right) {
  return std::pair(left.cost_db, left.aperture) > std::pair(right.cost_db, right.aperture);
}

void DetourQuery::push(const FrontierEntry& last) {
  open_.push_back(last);
  std::ranges::push_heap(open_, dearer);
}

std::span<const DetourGraph::Label> DetourQuery::labels(std::uint32_t aperture) const {
  return detour_tree_.labels_[DetourGraph::leaving(aperture, graph_.gates_[aperture].is_left(to_))];
}

bool DetourQuery::is_closed(std::uint32_t aperture) const {
  return std::ranges::find(closed_, aperture) != closed_.end();
}

DetourGraph::Way DetourQuery::next(double budget_db) {
  while (!open_.empty() && open_.front().cost_db <= budget_db) {
    std::ranges::pop_heap(open_, dearer);
    FrontierEntry last = open_.back();
    open_.pop_back();
    if (is_closed(last.aperture)) continue;
    const std::span<const DetourGraph::Label> ways = labels(last.aperture);
    if (last.leg_db < 0) {
      const bool left = graph_.gates_[last.aperture].is_left(to_);
      if (plane_ != nullptr && !last.bounded) {
        last.bounded = true;
        last.cost_db += plane_->least_passed_db(to_, last.aperture, left);
        push(last);
        continue;
      }
      const Point3 there = graph_.entry_point(last.aperture, left);
      last.leg_db = leg_cost_db(building_, to_, there, kNone, building_.apertures()[last.aperture].line);
      last.cost_db = ways.front().cost_db + last.leg_db;
      push(last);
      continue;
    }
    DetourGraph::Way way{passes(last), last.cost_db};
    if (std::ranges::any_of(way.passes, [&](const DetourGraph::ApertureCrossing& pass) {
          return is_closed(pass.aperture);
        })) {
      if (++last.label == ways.size()) continue;
      last.cost_db = ways[last.label].cost_db + last.leg_db;
      push(last);
      continue;
    }
    for (const DetourGraph::ApertureCrossing& pass : way.passes) closed_.push_back(pass.aperture);
    return way;
  }
  return {};
}

std::vector<DetourGraph::ApertureCrossing> DetourQuery::passes(const FrontierEntry& last) const {
  std::vector<DetourGraph::ApertureCrossing> passes;
  std::uint32_t vertex = DetourGraph::leaving(last.aperture, graph_.gates_[last.aperture].is_left(to_));
  std::uint32_t position = last.label;
  while (true) {
    if (vertex % 2 == 0) passes.push_back({vertex / 4, vertex % 4 == 2});
    const DetourGraph::Label& label = detour_tree_.labels_[vertex][position];
    if (label.before == vertex) break;
    vertex = label.before;
    position = label.before_label;
  }
  std::ranges::reverse(passes);
  return passes;
}

}  // namespace linkmargin
