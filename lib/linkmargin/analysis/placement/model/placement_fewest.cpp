#include "linkmargin/analysis/placement/model/placement_fewest.hpp"

#include <algorithm>
#include <utility>
#include <vector>

namespace linkmargin {
namespace {

template <typename Radios>
int fixed_count(const Radios& radios) {
  return static_cast<int>(std::ranges::count_if(radios, [](const auto& one) { return one.fixed; }));
}

/// Hubs and repeaters, the fewest parts first.
std::vector<std::pair<int, int>> counts_of(const Site& site, int most_hubs, int most_repeaters) {
  std::vector<std::pair<int, int>> counts;
  for (int hubs = std::max(1, fixed_count(site.hubs)); hubs <= most_hubs; ++hubs) {
    for (int repeaters = fixed_count(site.repeaters); repeaters <= most_repeaters; ++repeaters)
      counts.emplace_back(hubs, repeaters);
  }
  std::ranges::stable_sort(counts, {}, [](const auto& of) { return of.first + of.second; });
  return counts;
}

bool enrolled_left_out(const Site& site, int hubs) {
  std::vector<std::string> left_out;
  std::vector<Hub> order = site.hubs;
  std::stable_partition(order.begin(), order.end(), [](const Hub& hub) { return hub.fixed; });
  for (auto i = static_cast<std::size_t>(hubs); i < order.size(); ++i) left_out.push_back(order[i].name);
  const auto named = [&](const auto& one) {
    return one.hub && std::ranges::find(left_out, *one.hub) != left_out.end();
  };
  return std::ranges::any_of(site.devices, named) || std::ranges::any_of(site.areas, named);
}

/// The fewest parts that are as near as any, to what is worth telling: more would be bought for nothing.
const FewestParts::Count& nearest(const std::vector<FewestParts::Count>& tried) {
  constexpr double worth = 0.005;
  const double most = std::ranges::max_element(tried, {}, &FewestParts::Count::worst_chance)->worst_chance;
  return *std::ranges::find_if(tried, [&](const auto& count) { return count.worst_chance >= most - worth; });
}

}  // namespace

PlacementAnswer fewest_parts(const Site& site, PlacementOptions options, double chance) {
  require_in(kPlacementEnough, chance);
  options.target_probability = chance;
  const int most_hubs = options.hubs.value_or(static_cast<int>(site.hubs.size()));
  const int most_repeaters = options.repeaters.value_or(static_cast<int>(site.repeaters.size()));
  require_in(kPlacementHubs, most_hubs);
  require_in(kPlacementRepeaters, most_repeaters);
  FewestParts told{.chance = chance};
  PlacementOptions tried = options;
  tried.best_only = true;
  for (const auto& [hubs, repeaters] : counts_of(site, most_hubs, most_repeaters)) {
    if (enrolled_left_out(site, hubs)) continue;
    tried.hubs = options.hubs = hubs;
    tried.repeaters = options.repeaters = repeaters;
    const PlacementAnswer answer = placement(site, tried);
    if (answer.status == PlacementStatus::stopped) return answer;
    const bool found = !answer.choices.empty();
    // Chances are added up as floats: what they round away is not missing.
    told.reached = found && answer.choices.front().worst_chance() >= chance - 1e-6;
    if (told.reached) break;
    told.proved = told.proved && (answer.proved || answer.status == PlacementStatus::infeasible);
    told.not_enough.push_back({.hubs = hubs,
                               .repeaters = repeaters,
                               .worst_chance = found ? answer.choices.front().worst_chance() : 0,
                               .missing_slots = answer.missing_slots});
  }
  if (!told.reached && !told.not_enough.empty()) {
    const FewestParts::Count& shown = nearest(told.not_enough);
    options.hubs = shown.hubs;
    options.repeaters = shown.repeaters;
  }
  PlacementAnswer answer = placement(site, options);
  answer.fewest = std::move(told);
  return answer;
}

}  // namespace linkmargin
