#pragma once

#include "linkmargin/analysis/placement/solver/placement_problem.hpp"
#include "linkmargin/base/random.hpp"

#include <algorithm>
#include <memory>
#include <string>
#include <utility>
#include <vector>

/// Small random problems of places, and all their layouts looked at one by one.
namespace enumeration {

using namespace linkmargin;

struct Best {
  float worst = -1;
  double sum = -1;
  std::size_t parts = 0;
  int missing = 0;

  void take(float other_worst, double other_sum, std::size_t other_parts) {
    const bool more = other_worst > worst || (other_worst == worst && other_sum > sum) ||
                      (other_worst == worst && other_sum == sum && other_parts < parts);
    if (more) *this = {other_worst, other_sum, other_parts, 0};
  }
};

/// Whether the slots of a hub or repeater hold the tenants, by the words of docs/site-file/devices.md.
inline bool holds(const std::optional<Capacity>& slots,
                  const std::vector<std::pair<std::string, int>>& tenants) {
  if (!slots) return true;
  int all = 0;
  std::map<std::string, int> used;
  const auto& classes = slots->by_class;
  for (const auto& [device_class, count] : tenants) {
    all += count;
    if (!classes.empty() && !classes.contains(device_class) && !classes.contains("others")) return false;
    used[slots->by_class.contains(device_class) ? device_class : "others"] += count;
  }
  int total = slots->total.value_or(1'000'000);
  if (!slots->by_class.empty()) {
    total = 0;
    for (const auto& [device_class, count] : slots->by_class) {
      if (used[device_class] > count) return false;
      total += count;
    }
  }
  return all <= total;
}

/// Every layout, every way of giving repeaters a next hop, every way of giving items a hub.
class Enumeration {
 public:
  explicit Enumeration(const PlacementProblem& problem) : problem_(problem) {}

  Best run() {
    choose(0, 0, 0);
    if (best_.worst < 0) {
      std::vector<PlacementPart> hubs;
      for (std::uint32_t g = 0; g < problem_.groups.size(); ++g) {
        for (int i = 0; i < problem_.groups[g].count && !problem_.groups[g].repeater; ++i)
          hubs.push_back({g, 0});
      }
      hubs_ = hubs;
      tenants_.assign(hubs.size(), {});
      best_.missing = 1'000'000;
      leave_out(0, 0);
    }
    return best_;
  }

 private:
  /// Parts of groups in turn, places of one group not falling.
  void choose(std::uint32_t group, int placed, std::uint32_t from) {
    if (group == problem_.groups.size()) return attach();
    const PlacementGroup& of = problem_.groups[group];
    if (of.repeater || placed == of.count) choose(group + 1, 0, 0);
    if (placed == of.count) return;
    for (std::uint32_t place = from; place < of.places; ++place) {
      (of.repeater ? repeaters_ : hubs_).push_back({group, place});
      choose(group, placed + 1, place);
      (of.repeater ? repeaters_ : hubs_).pop_back();
    }
  }

  void attach() {
    next_.clear();
    attach_next();
  }

  void attach_next() {
    if (next_.size() == repeaters_.size()) return calculate();
    for (std::size_t to = 0; to < hubs_.size() + repeaters_.size(); ++to) {
      if (to == hubs_.size() + next_.size()) continue;
      next_.push_back(to);
      attach_next();
      next_.pop_back();
    }
  }

  void calculate() {
    way_.assign(repeaters_.size(), {-1.0F, 0});
    tenants_.assign(hubs_.size(), {});
    of_repeaters_.assign(repeaters_.size(), {});
    for (std::size_t r = 0; r < repeaters_.size(); ++r) {
      float chance = 1;
      std::size_t at = r;
      int hops = 1;
      while (next_[at] >= hubs_.size()) {
        const std::size_t other = next_[at] - hubs_.size();
        chance *= problem_.hop(repeaters_[at], repeaters_[other]);
        at = other;
        if (++hops > problem_.most_hops) return;
      }
      way_[r] = {chance * problem_.hop(repeaters_[at], hubs_[next_[at]]), next_[at]};
      tenants_[next_[at]].emplace_back(problem_.groups[repeaters_[r].group].device_class, 1);
      if (next_[r] >= hubs_.size())
        of_repeaters_[next_[r] - hubs_.size()].emplace_back(problem_.groups[repeaters_[r].group].device_class,
                                                            1);
    }
    for (std::size_t r = 0; r < repeaters_.size(); ++r) {
      if (!holds(problem_.groups[repeaters_[r].group].slots, of_repeaters_[r])) return;
    }
    for (std::size_t h = 0; h < hubs_.size(); ++h) {
      if (!holds(problem_.groups[hubs_[h].group].slots, tenants_[h])) return;
    }
    give(0, 1, 0);
  }

  void give(std::size_t item, float worst, double sum) {
    if (worst < best_.worst) return;
    if (item == problem_.items.size())
      return best_.take(std::min(worst, problem_.target_probability), sum, hubs_.size() + repeaters_.size());
    const PlacementItem& of = problem_.items[item];
    for (std::size_t h = 0; h < hubs_.size(); ++h) {
      if (of.hub && *of.hub != hubs_[h].group) continue;
      float value = problem_.chance(item, hubs_[h]);
      for (std::size_t r = 0; r < repeaters_.size(); ++r) {
        if (way_[r].second == h && !problem_.groups[repeaters_[r].group].slots)
          value = std::max(value, way_[r].first * problem_.chance(item, repeaters_[r]));
      }
      tenants_[h].emplace_back(of.device_class, of.slots);
      if (holds(problem_.groups[hubs_[h].group].slots, tenants_[h]))
        give(item + 1, std::min(worst, value), sum + static_cast<double>(value));
      for (std::size_t r = 0; r < repeaters_.size(); ++r) give_by(r, h, item, worst, sum);
      tenants_[h].pop_back();
    }
  }

  /// By a repeater with slots of its own, the hub's taken.
  void give_by(std::size_t r, std::size_t h, std::size_t item, float worst, double sum) {
    const std::optional<Capacity>& slots = problem_.groups[repeaters_[r].group].slots;
    if (way_[r].second != h || !slots) return;
    const float value = way_[r].first * problem_.chance(item, repeaters_[r]);
    of_repeaters_[r].emplace_back(problem_.items[item].device_class, problem_.items[item].slots);
    if (holds(slots, of_repeaters_[r]) && holds(problem_.groups[hubs_[h].group].slots, tenants_[h]))
      give(item + 1, std::min(worst, value), sum + static_cast<double>(value));
    of_repeaters_[r].pop_back();
  }

  void leave_out(std::size_t item, int missing) {
    if (missing >= best_.missing) return;
    if (item == problem_.items.size()) {
      best_.missing = missing;
      return;
    }
    const PlacementItem& of = problem_.items[item];
    for (std::size_t h = 0; h < hubs_.size(); ++h) {
      if (of.hub && *of.hub != hubs_[h].group) continue;
      tenants_[h].emplace_back(of.device_class, of.slots);
      if (holds(problem_.groups[hubs_[h].group].slots, tenants_[h])) leave_out(item + 1, missing);
      tenants_[h].pop_back();
    }
    leave_out(item + 1, missing + of.slots);
  }

  const PlacementProblem& problem_;
  Best best_;
  std::vector<PlacementPart> hubs_;
  std::vector<PlacementPart> repeaters_;
  std::vector<std::size_t> next_;
  std::vector<std::pair<float, std::size_t>> way_;
  std::vector<std::vector<std::pair<std::string, int>>> tenants_;
  std::vector<std::vector<std::pair<std::string, int>>> of_repeaters_;
};

/// Up to 10 items, 25 places, 2 hubs and 1 repeater, or 1 hub and 2 repeaters; slots that often are few or
/// too few. Chances fall with the distance between points of a square; some are the same.
inline PlacementProblem random_problem(std::uint64_t seed) {
  const RandomStream random(seed, 41);
  std::uint64_t draw = 0;
  const auto uniform = [&](double from, double to) { return from + (to - from) * random.uniform(draw++); };
  const auto whole = [&](int from, int to) {
    return from + static_cast<int>(random.bits(draw++) % static_cast<std::uint64_t>(to - from + 1));
  };
  const auto spot = [&] { return std::pair(uniform(0, 10), uniform(0, 10)); };
  const int most_hubs = whole(1, 2);
  const int repeaters = most_hubs == 1 ? whole(0, 2) : whole(0, 1);
  const bool two_hops = repeaters == 2;
  const int places = two_hops ? whole(2, 9) : whole(2, 25);
  const int items = two_hops ? whole(2, 7) : whole(2, 10);
  std::vector<std::pair<double, double>> at;
  std::vector<std::pair<double, double>> of_items;
  for (int i = 0; i < places; ++i) at.push_back(spot());
  for (int i = 0; i < items; ++i) of_items.push_back(spot());
  const double reach = uniform(2, 9);
  const bool coarse = whole(0, 3) == 0;
  const auto chance = [=](std::pair<double, double> a, std::pair<double, double> b, double wall) {
    const double dx = a.first - b.first;
    const double dy = a.second - b.second;
    const double value = 1 / (1 + std::exp((std::sqrt(dx * dx + dy * dy) + wall - reach) / 1.5));
    return static_cast<float>(coarse ? std::round(8 * value) / 8 : value);
  };
  PlacementProblem problem;
  int wanted = 0;
  for (int i = 0; i < items; ++i) {
    problem.items.push_back({whole(0, 5) == 0 ? 2 : 1, whole(0, 2) == 0 ? "fobs" : "", {}});
    wanted += problem.items.back().slots;
  }
  const auto fill = [&](PlacementGroup& group) {
    group.places = static_cast<std::size_t>(places);
    for (const auto& item : of_items) {
      for (const auto& place : at) group.chances.push_back(chance(item, place, uniform(0, 3)));
    }
  };
  const bool apart = most_hubs == 2 && whole(0, 2) == 0;  // two hubs that differ, one of them named by some
  for (int g = 0; g < (apart ? 2 : 1); ++g) {
    PlacementGroup hubs;
    hubs.count = apart ? 1 : most_hubs;
    const int kind = whole(0, 3);
    const int each = std::max(1, wanted / most_hubs + whole(-1, 3));
    if (kind == 1) hubs.slots = Capacity{each, {}};
    if (kind == 2) hubs.slots = Capacity{{}, {{"fobs", whole(0, 3)}, {"others", each}}};
    if (kind == 3) hubs.slots = Capacity{{}, {{"fobs", each}, {"others", each}}};
    if (kind == 3 && seed % 8 == 0) hubs.slots->by_class.erase("others");  // and no place for the rest
    fill(hubs);
    problem.groups.push_back(std::move(hubs));
  }
  if (apart) {
    for (PlacementItem& item : problem.items) {
      if (whole(0, 3) == 0) item.hub = static_cast<std::uint32_t>(whole(0, 1));
    }
  }
  if (repeaters > 0) {
    PlacementGroup group;
    group.repeater = true;
    group.count = repeaters;
    group.device_class = whole(0, 1) == 0 ? "repeaters" : "fobs";
    fill(group);
    const RandomStream of_slots(seed, 42);
    const int each = 1 + static_cast<int>(of_slots.bits(0) % 3);
    switch (of_slots.bits(1) % (two_hops ? 16 : 8)) {  // most have slots without number
      case 1:
        group.slots = Capacity{each, {}};
        break;
      case 2:
        group.slots = Capacity{{}, {{"fobs", each}, {"others", 1}}};
        break;
      case 3:
        group.slots = Capacity{{}, {{"fobs", each}}};
    }
    problem.groups.push_back(std::move(group));
  }
  const auto hop = [=](PlacementPart one, PlacementPart other) {
    return chance(at[one.place], at[other.place], one.place % 3 == 0 ? 1 : 0);
  };
  problem.hop = hop;
  if (seed % 2 == 0) {  // found at once
    const auto row = std::make_shared<std::vector<float>>();
    problem.hops = [=](PlacementPart part, std::uint32_t group,
                       bool is_repeater) -> const std::vector<float>& {
      row->clear();
      for (std::uint32_t p = 0; p < at.size(); ++p)
        row->push_back(is_repeater ? hop(part, {group, p}) : hop({group, p}, part));
      return *row;
    };
  }
  return problem;
}

}  // namespace enumeration
