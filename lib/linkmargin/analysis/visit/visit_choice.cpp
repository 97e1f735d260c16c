#include "linkmargin/analysis/visit/visit_choice.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <tuple>
#include <utility>

namespace linkmargin {
namespace {

/// In whole steps, rounded up.
int steps_short(const VisitOption& option, double asked) {
  if (option.met) return 0;
  return static_cast<int>(std::ceil(std::max(0.0, asked - option.chance) / kShortfallStep - 1e-9));
}

auto option_rank(const VisitOption& option, double asked) {
  return std::tuple(!option.met, steps_short(option, asked), option.effort, -option.chance);
}

/// Whether an option with more holes or parts than another pays.
bool pays(const std::vector<VisitOption>& options, const VisitOption& option) {
  return std::ranges::all_of(options, [&](const VisitOption& other) {
    const bool dearer = std::pair(option.effort.parts, option.effort.holes) >
                        std::pair(other.effort.parts, other.effort.holes);
    return !dearer || is_worth_more(option, other);
  });
}

VisitChoice choice_of(std::size_t set, const VisitEffort& effort, const VisitOptions& options, double asked) {
  VisitChoice choice{.set = set, .option = {}, .effort = effort, .taken = {}};
  for (const std::vector<VisitOption>& of_device : options) {
    std::optional<std::size_t> best;
    for (std::size_t i = 0; i < of_device.size(); ++i) {
      if (!pays(of_device, of_device[i])) continue;
      if (!best || option_rank(of_device[i], asked) < option_rank(of_device[*best], asked)) best = i;
    }
    const VisitOption& taken = of_device.at(best.value());
    choice.option.push_back(*best);
    choice.unmet += taken.met ? 0 : 1;
    choice.shortfall += steps_short(taken, asked);
    choice.effort = choice.effort + taken.effort;
    choice.sum += taken.chance;
    choice.taken.push_back(taken);
  }
  return choice;
}

/// Whether a better choice is worth taking in place of another.
bool is_worth_taking(const VisitChoice& better, const VisitChoice& than) {
  if (better.effort <= than.effort) return true;
  const int bought = better.effort.parts - than.effort.parts;
  for (std::size_t i = 0; i < better.taken.size(); ++i) {
    const VisitOption& now = better.taken[i];
    const VisitOption& before = than.taken[i];
    if (!is_worth_more(now, before)) continue;
    if (bought > 1 && before.chance >= kFairVisitChance) continue;
    if (bought <= 0 || (now.met && !before.met)) return true;
  }
  return false;
}

}  // namespace

bool is_worth_more(const VisitOption& dearer, const VisitOption& than) {
  return dearer.chance >= std::max(than.chance + kWorthVisitChance, kLikelyVisitChance) &&
         dearer.chance > than.near_chance;
}

bool VisitChoice::is_better_than(const VisitChoice& other) const {
  const auto rank = [](const VisitChoice& choice) {
    return std::tuple(choice.unmet, choice.shortfall, choice.effort, -choice.sum);
  };
  return rank(*this) < rank(other);
}

VisitChoices visit_choice(std::span<const VisitEffort> efforts, double asked, const VisitOptionsCall& options,
                          std::size_t most_sets) {
  VisitChoices found{.best = {}, .sets = efforts.size(), .proved = true, .tried_below = {}};
  std::vector<std::size_t> order(efforts.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::stable_sort(order, {}, [&](std::size_t set) { return efforts[set]; });
  std::map<std::pair<int, int>, VisitChoice> ladder;  // by parts and holes of the set
  std::optional<VisitEffort> enough;                  // the least with which no device is short
  for (const std::size_t set : order) {
    if (enough && efforts[set] > *enough) break;
    if (found.tried == most_sets) {
      found.proved = false;
      found.tried_below = efforts[set];
      break;
    }
    ++found.tried;
    const std::optional<VisitOptions> of_set = options(set);
    if (!of_set) continue;
    VisitChoice choice = choice_of(set, efforts[set], *of_set, asked);
    if (choice.unmet == 0 && (!enough || choice.effort < *enough)) enough = choice.effort;
    const std::pair rung{efforts[set].parts, efforts[set].holes};
    const auto known = ladder.find(rung);
    if (known == ladder.end())
      ladder.emplace(rung, std::move(choice));
    else if (choice.is_better_than(known->second))
      known->second = std::move(choice);
  }
  for (auto& [rung, choice] : ladder) {
    const bool taken =
        !found.best || (choice.is_better_than(*found.best) && is_worth_taking(choice, *found.best));
    if (taken) found.best = std::move(choice);
  }
  return found;
}

}  // namespace linkmargin
