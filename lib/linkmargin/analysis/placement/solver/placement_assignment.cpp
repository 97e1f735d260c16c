#include "linkmargin/analysis/placement/solver/placement_assignment.hpp"

#include "linkmargin/analysis/placement/solver/placement_slots.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

constexpr std::uint32_t kNoPart = 0xFFFFFFFF;

/// A repeater's way to a hub.
struct Chain {
  float chance = -1;
  std::uint32_t hub = kNoPart;      // position among the hubs
  std::uint32_t through = kNoPart;  // position among the repeaters: the second hop
};

/// The parts of one layout, told apart.
class AssignmentSolver {
 public:
  AssignmentSolver(const PlacementProblem& problem, const std::vector<PlacementPart>& parts)
      : problem_(problem), parts_(parts) {
    for (std::uint32_t i = 0; i < parts.size(); ++i)
      (problem.groups[parts[i].group].repeater ? repeaters_ : hubs_).push_back(i);
    direct_.resize(repeaters_.size() * hubs_.size());
    for (std::size_t r = 0; r < repeaters_.size(); ++r) {
      for (std::size_t h = 0; h < hubs_.size(); ++h) direct_[r * hubs_.size() + h] = hop(r, hubs_[h]);
    }
  }

  PlacementLayout run(float at_least) {
    PlacementLayout free = unbounded();
    if (free.worst < at_least) return {};
    if (fits(free)) return free;
    PlacementLayout best;
    std::vector<Chain> chains(repeaters_.size());
    attach(0, chains, at_least, best);
    return best;
  }

 private:
  /// Under 0 where a repeater may not be enrolled at a part.
  float hop(std::size_t r, std::uint32_t part) const {
    return serves(slots(part), class_of(r)) ? problem_.hop(parts_[repeaters_[r]], parts_[part]) : -1;
  }
  float direct(std::size_t r, std::size_t h) const { return direct_[r * hubs_.size() + h]; }
  float between(std::size_t r, std::size_t other) const { return hop(r, repeaters_[other]); }
  const std::optional<Capacity>& slots(std::uint32_t part) const {
    return problem_.groups[parts_[part].group].slots;
  }
  static bool serves(const std::optional<Capacity>& slots, const std::string& device_class) {
    return !slots || slots->serves(device_class);
  }
  bool may(const PlacementItem& item, std::size_t h) const {
    return (!item.hub || *item.hub == parts_[hubs_[h]].group) && serves(slots(hubs_[h]), item.device_class);
  }
  bool may_go_by(const PlacementItem& item, std::size_t r) const {
    return serves(slots(repeaters_[r]), item.device_class);
  }
  const std::string& class_of(std::size_t r) const {
    return problem_.groups[parts_[repeaters_[r]].group].device_class;
  }
  /// The station of a repeater among the slots: hubs come first.
  std::size_t station(std::size_t r) const { return hubs_.size() + r; }

  /// The best way of a repeater to one of the hubs that may serve an item.
  Chain chain(std::size_t r, const PlacementItem& item) const {
    Chain best;
    for (std::uint32_t h = 0; h < hubs_.size(); ++h) {
      if (may(item, h) && direct(r, h) > best.chance) best = {direct(r, h), h, kNoPart};
    }
    for (std::uint32_t other = 0; problem_.most_hops > 1 && other < repeaters_.size(); ++other) {
      if (other == r) continue;
      for (std::uint32_t h = 0; h < hubs_.size(); ++h) {
        if (!may(item, h) || direct(other, h) <= best.chance) continue;
        const float first = between(r, other);
        const float both = first * direct(other, h);
        if (first >= 0 && both > best.chance) best = {both, h, other};
      }
    }
    return best;
  }

  /// Every item with its best way, as though slots were without number and a repeater could have several
  /// hubs: nothing can be better.
  PlacementLayout unbounded() const {
    PlacementLayout layout = begun();
    std::vector<Chain> of_any;
    for (std::size_t r = 0; r < repeaters_.size(); ++r) of_any.push_back(chain(r, {}));
    const bool by_class = std::ranges::any_of(
        hubs_, [&](std::uint32_t hub) { return slots(hub) && !slots(hub)->by_class.empty(); });
    for (std::size_t i = 0; i < problem_.items.size(); ++i) {
      const PlacementItem& item = problem_.items[i];
      PlacementRoute route{0, {}, -1};
      for (std::uint32_t h = 0; h < hubs_.size(); ++h) {
        const float chance = may(item, h) ? problem_.chance(i, parts_[hubs_[h]]) : -1;
        if (chance > route.chance) route = {hubs_[h], {}, chance};
      }
      for (std::size_t r = 0; r < repeaters_.size(); ++r) {
        const float first = problem_.chance(i, parts_[repeaters_[r]]);
        if (first <= route.chance || !may_go_by(item, r)) continue;
        const Chain way = item.hub || by_class ? chain(r, item) : of_any[r];
        if (way.hub != kNoPart && first * way.chance > route.chance) route = by_way(r, way, first);
      }
      add(layout, std::move(route));
    }
    return layout;
  }

  PlacementRoute by_way(std::size_t r, const Chain& way, float first) const {
    PlacementRoute route{hubs_[way.hub], {repeaters_[r]}, first * way.chance};
    if (way.through != kNoPart) route.via.push_back(repeaters_[way.through]);
    return route;
  }

  PlacementLayout begun() const {
    PlacementLayout layout;
    layout.worst = problem_.target_probability;
    layout.sum = 0;
    layout.parts = parts_;
    return layout;
  }

  static void add(PlacementLayout& layout, PlacementRoute route) {
    layout.worst = std::min(layout.worst, route.chance);
    layout.sum += static_cast<double>(route.chance);
    layout.routes.push_back(std::move(route));
  }

  SlotPools pools() const {
    int total = static_cast<int>(repeaters_.size());
    for (const PlacementItem& item : problem_.items) total += item.slots;
    std::vector<std::optional<Capacity>> stations;
    for (const std::uint32_t hub : hubs_) stations.push_back(slots(hub));
    for (const std::uint32_t repeater : repeaters_) stations.push_back(slots(repeater));
    return SlotPools(stations, total);
  }

  /// Of a part, among the slots.
  std::size_t station_of(std::uint32_t part) const {
    const auto hub = std::ranges::find(hubs_, part);
    if (hub != hubs_.end()) return static_cast<std::size_t>(hub - hubs_.begin());
    return station(static_cast<std::size_t>(std::ranges::find(repeaters_, part) - repeaters_.begin()));
  }

  /// Whether slots suffice and each repeater has one next hop; leaves out the repeaters that nobody uses.
  bool fits(PlacementLayout& layout) const {
    std::vector<std::uint32_t> next(parts_.size(), kNoPart);
    std::vector<std::uint32_t> hub_of(parts_.size(), kNoPart);
    const auto set = [](std::uint32_t& slot, std::uint32_t value) {
      const bool same = slot == kNoPart || slot == value;
      slot = value;
      return same;
    };
    SlotPools left = pools();
    for (std::size_t i = 0; i < layout.routes.size(); ++i) {
      const PlacementRoute& route = layout.routes[i];
      const PlacementItem& item = problem_.items[i];
      if (route.chance < 0) return false;
      if (!left.take(station_of(route.hub), item.device_class, item.slots)) return false;
      if (!route.via.empty() && !left.take(station_of(route.via.front()), item.device_class, item.slots))
        return false;
      for (std::size_t hop = 0; hop < route.via.size(); ++hop) {
        const bool last = hop + 1 == route.via.size();
        if (!set(next[route.via[hop]], last ? route.hub : route.via[hop + 1])) return false;
        if (!set(hub_of[route.via[hop]], route.hub)) return false;
      }
    }
    for (std::size_t r = 0; r < repeaters_.size(); ++r) {
      const std::uint32_t part = repeaters_[r];
      if (hub_of[part] == kNoPart) continue;
      if (!left.take(station_of(hub_of[part]), class_of(r), 1)) return false;
      if (next[part] != hub_of[part] && !left.take(station_of(next[part]), class_of(r), 1)) return false;
    }
    leave_out(layout, [&](std::uint32_t part) {
      return problem_.groups[parts_[part].group].repeater && hub_of[part] == kNoPart;
    });
    return true;
  }

  template <typename Unused>
  void leave_out(PlacementLayout& layout, Unused unused) const {
    std::vector<std::uint32_t> renumbered(parts_.size());
    layout.parts.clear();
    for (std::uint32_t part = 0; part < parts_.size(); ++part) {
      renumbered[part] = static_cast<std::uint32_t>(layout.parts.size());
      if (!unused(part)) layout.parts.push_back(parts_[part]);
    }
    for (PlacementRoute& route : layout.routes) {
      route.hub = renumbered[route.hub];
      for (std::uint32_t& via : route.via) via = renumbered[via];
    }
  }

  /// Every way of giving each repeater a hub or another repeater, from one on.
  void attach(std::size_t r, std::vector<Chain>& chains, float at_least, PlacementLayout& best) const {
    if (r == repeaters_.size()) return attached(chains, at_least, best);
    for (std::uint32_t h = 0; h < hubs_.size(); ++h) {
      chains[r] = {direct(r, h), h, kNoPart};
      attach(r + 1, chains, at_least, best);
    }
    for (std::uint32_t other = 0; problem_.most_hops > 1 && other < repeaters_.size(); ++other) {
      if (other == r) continue;
      chains[r] = {-1, kNoPart, other};
      attach(r + 1, chains, at_least, best);
    }
  }

  void attached(std::vector<Chain> chains, float at_least, PlacementLayout& best) const {
    for (std::size_t r = 0; r < chains.size(); ++r) {
      if (chains[r].through == kNoPart) continue;
      const Chain& on = chains[chains[r].through];
      if (on.through != kNoPart) return;
      const float first = between(r, chains[r].through);
      chains[r].chance = first < 0 ? first : first * on.chance;
      chains[r].hub = on.hub;
    }
    if (std::ranges::any_of(chains, [](const Chain& chain) { return chain.chance < 0; })) return;
    SlotPools left = pools();
    for (std::size_t r = 0; r < chains.size(); ++r) {
      const std::uint32_t through = chains[r].through;
      if (!left.take(chains[r].hub, class_of(r), 1)) return;
      if (through != kNoPart && !left.take(station(through), class_of(r), 1)) return;
    }
    for (std::size_t r = 0; r < chains.size(); ++r) left.lead_on(station(r), chains[r].hub);
    std::vector<std::uint32_t> through;
    const SlotChances chances = values(chains, through);
    const float least = std::max(at_least, best.worst);
    std::vector<std::uint32_t> shares = left.share_out(problem_.items, chances, least);
    if (shares.empty() && !problem_.items.empty()) return;
    shares = highest(left, chances, least, std::move(shares));
    PlacementLayout found = begun();
    for (std::size_t i = 0; i < shares.size(); ++i) {
      const std::size_t at = i * chances.stations + shares[i];
      const std::uint32_t r = through[at];
      PlacementRoute route;
      if (r == kNoPart) route = {hubs_[shares[i]], {}, chances.values[at]};
      if (r != kNoPart) route = by_way(r, chains[r], problem_.chance(i, parts_[repeaters_[r]]));
      add(found, std::move(route));
    }
    if (better(found, best)) best = std::move(found);
  }

  /// What each item has at each hub, directly or by a repeater whose slots are without number, and by each
  /// other repeater; and by which it then goes.
  SlotChances values(const std::vector<Chain>& chains, std::vector<std::uint32_t>& through) const {
    SlotChances chances{hubs_.size() + repeaters_.size(), {}};
    const auto value_by = [&](std::size_t i, std::size_t r) {
      return problem_.chance(i, parts_[repeaters_[r]]) * chains[r].chance;
    };
    for (std::size_t i = 0; i < problem_.items.size(); ++i) {
      for (std::size_t h = 0; h < hubs_.size(); ++h) {
        const bool allowed = may(problem_.items[i], h);
        float value = allowed ? problem_.chance(i, parts_[hubs_[h]]) : -1;
        std::uint32_t by = kNoPart;
        for (std::uint32_t r = 0; allowed && r < chains.size(); ++r) {
          if (chains[r].hub != h || slots(repeaters_[r])) continue;
          const float other = value_by(i, r);
          if (other > value) {
            value = other;
            by = r;
          }
        }
        chances.values.push_back(value);
        through.push_back(by);
      }
      for (std::uint32_t r = 0; r < chains.size(); ++r) {
        const PlacementItem& item = problem_.items[i];
        const bool allowed = slots(repeaters_[r]) && may(item, chains[r].hub) && may_go_by(item, r);
        chances.values.push_back(allowed ? value_by(i, r) : -1);
        through.push_back(r);
      }
    }
    return chances;
  }

  /// The sharing whose least value is greatest, and among those whose sum is.
  std::vector<std::uint32_t> highest(const SlotPools& left, const SlotChances& chances, float at_least,
                                     std::vector<std::uint32_t> shares) const {
    std::vector<float> levels;
    for (const float value : chances.values) {
      const float level = std::min(value, problem_.target_probability);
      if (level > at_least) levels.push_back(level);
    }
    std::ranges::sort(levels);
    levels.erase(std::unique(levels.begin(), levels.end()), levels.end());
    std::size_t known = 0;  // levels[known - 1] can be had
    std::size_t beyond = levels.size();
    while (known < beyond) {
      const std::size_t middle = known + (beyond - known) / 2;
      auto found = left.share_out(problem_.items, chances, levels[middle]);
      if (found.empty()) {
        beyond = middle;
      } else {
        known = middle + 1;
        shares = std::move(found);
      }
    }
    return shares;
  }

  const PlacementProblem& problem_;
  const std::vector<PlacementPart>& parts_;
  std::vector<std::uint32_t> hubs_;
  std::vector<std::uint32_t> repeaters_;
  std::vector<float> direct_;
};

}  // namespace

PlacementLayout PlacementAssignment::best(const std::vector<PlacementPart>& parts, float at_least) const {
  return AssignmentSolver(problem_, parts).run(at_least);
}

int PlacementAssignment::missing_slots(const std::vector<PlacementPart>& hubs) const {
  int total = 0;
  for (const PlacementItem& item : problem_.items) total += item.slots;
  std::vector<std::optional<Capacity>> slots;
  SlotChances chances{hubs.size(), {}};
  for (const PlacementPart hub : hubs) slots.push_back(problem_.groups[hub.group].slots);
  for (const PlacementItem& item : problem_.items) {
    for (const PlacementPart hub : hubs) {
      const std::optional<Capacity>& of_hub = problem_.groups[hub.group].slots;
      const bool may =
          (!item.hub || *item.hub == hub.group) && (!of_hub || of_hub->serves(item.device_class));
      chances.values.push_back(may ? 1.0F : -1.0F);
    }
  }
  return SlotPools(slots, total).missing(problem_.items, chances);
}

}  // namespace linkmargin
