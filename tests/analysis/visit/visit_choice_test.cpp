#include "linkmargin/analysis/visit/visit_choice.hpp"

#include "linkmargin/base/random.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <tuple>
#include <utility>

using namespace linkmargin;

namespace {

constexpr double kAsked = 0.9;

struct NumberProblem {
  std::vector<VisitEffort> efforts;
  std::vector<std::optional<VisitOptions>> options;  ///< of each set

  VisitOptionsCall call() const {
    return [this](std::size_t set) { return options[set]; };
  }
};

/// The empty set first, some sets not allowed; chances on a coarse grid, so that many are equal.
NumberProblem random_problem(std::uint64_t seed) {
  const RandomStream random(seed, 5);
  std::uint64_t draw = 0;
  const auto whole = [&](int below) { return static_cast<int>(random.uniform(draw++) * below); };
  NumberProblem problem;
  const int sets = 1 + whole(7);
  const int devices = 1 + whole(3);
  for (int set = 0; set < sets; ++set) {
    problem.efforts.push_back(set == 0 ? VisitEffort{} : VisitEffort{whole(3), whole(3), 0});
    if (set > 0 && whole(6) == 0) {
      problem.options.emplace_back();
      continue;
    }
    VisitOptions options;
    for (int device = 0; device < devices; ++device) {
      auto& of_device = options.emplace_back();
      const int count = 1 + whole(4);
      for (int i = 0; i < count; ++i) {
        VisitOption option;
        if (i > 0) option.effort = {0, whole(2), 1 + whole(2)};
        option.chance = whole(51) / 50.0;
        option.near_chance = std::min(1.0, option.chance + whole(4) / 50.0);
        option.met = option.chance >= kAsked && whole(8) > 0;
        of_device.push_back(option);
      }
    }
    problem.options.push_back(std::move(options));
  }
  return problem;
}

bool is_worth(const VisitOption& dearer, const VisitOption& than) {
  return dearer.chance - than.chance >= 0.03 && dearer.chance >= 0.5 && dearer.chance > than.near_chance;
}

/// One way to take an option for each device.
struct Taken {
  std::size_t set = 0;
  std::vector<VisitOption> options;
  VisitEffort effort;
  int unmet = 0;
  int shortfall = 0;
  double sum = 0;

  auto rank() const { return std::tuple(unmet, shortfall, effort, -sum); }
};

/// Every way to take options under a set, one after the other.
std::vector<Taken> all_ways(const NumberProblem& problem, std::size_t set) {
  std::vector<Taken> ways{Taken{.set = set, .options = {}, .effort = problem.efforts[set]}};
  for (const auto& of_device : *problem.options[set]) {
    std::vector<Taken> longer;
    for (const Taken& way : ways) {
      for (const VisitOption& option : of_device) {
        const bool pays = std::ranges::all_of(of_device, [&](const VisitOption& other) {
          return option.effort.holes <= other.effort.holes || is_worth(option, other);
        });
        if (!pays) continue;
        Taken more = way;
        more.options.push_back(option);
        more.effort = more.effort + option.effort;
        more.sum += option.chance;
        if (!option.met) {
          ++more.unmet;
          more.shortfall += static_cast<int>(std::ceil(std::max(0.0, kAsked - option.chance) * 10 - 1e-9));
        }
        longer.push_back(std::move(more));
      }
    }
    ways = std::move(longer);
  }
  return ways;
}

/// visit_choice() as its header defines it, by looking at everything.
Taken enumerated(const NumberProblem& problem) {
  std::vector<Taken> all;
  std::optional<VisitEffort> enough;
  for (std::size_t set = 0; set < problem.efforts.size(); ++set) {
    if (!problem.options[set]) continue;
    for (Taken& way : all_ways(problem, set)) {
      if (way.unmet == 0 && (!enough || way.effort < *enough)) enough = way.effort;
      all.push_back(std::move(way));
    }
  }
  std::map<std::pair<int, int>, Taken> rungs;
  for (const Taken& way : all) {
    const VisitEffort& of_set = problem.efforts[way.set];
    if (enough && of_set > *enough) continue;
    const auto at = rungs.try_emplace({of_set.parts, of_set.holes}, way).first;
    if (way.rank() < at->second.rank()) at->second = way;
  }
  std::optional<Taken> best;
  for (const auto& [rung, way] : rungs) {
    bool taken = !best;
    if (best && way.rank() < best->rank()) {
      taken = way.effort <= best->effort;
      for (std::size_t i = 0; i < way.options.size(); ++i) {
        const bool reaches = way.options[i].met && !best->options[i].met;
        if (way.effort.parts > best->effort.parts + 1 && best->options[i].chance >= 0.8) continue;
        if (is_worth(way.options[i], best->options[i]) && (way.effort.parts <= best->effort.parts || reaches))
          taken = true;
      }
    }
    if (taken) best = way;
  }
  return *best;
}

}  // namespace

TEST_CASE("the choice is the one that looking at everything finds") {
  int several = 0, bought = 0, short_of = 0;
  for (std::uint64_t seed = 1; seed <= 2000; ++seed) {
    CAPTURE(seed);
    const NumberProblem problem = random_problem(seed);
    const Taken wanted = enumerated(problem);
    const VisitChoices found = visit_choice(problem.efforts, kAsked, problem.call(), 100);
    REQUIRE(found.best);
    CHECK(found.proved);
    CHECK(found.best->unmet == wanted.unmet);
    CHECK(found.best->shortfall == wanted.shortfall);
    CHECK(found.best->effort == wanted.effort);
    CHECK(std::abs(found.best->sum - wanted.sum) <= 1e-12);
    several += found.tried > 1 ? 1 : 0;
    bought += wanted.effort.parts > 0 ? 1 : 0;
    short_of += wanted.unmet > 0 ? 1 : 0;
  }
  CHECK(several > 300);
  CHECK(bought > 50);
  CHECK(short_of > 300);
}

TEST_CASE("a search that is cut short says so, and how far it came") {
  int cut = 0;
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    CAPTURE(seed);
    const NumberProblem problem = random_problem(seed);
    std::set<std::size_t> asked;
    const auto call = [&](std::size_t set) {
      asked.insert(set);
      return problem.options[set];
    };
    const VisitChoices found = visit_choice(problem.efforts, kAsked, call, 2);
    CHECK(asked.size() == found.tried);
    CHECK(found.tried <= 2);
    if (found.proved) continue;
    ++cut;
    for (std::size_t set = 0; set < problem.efforts.size(); ++set) {
      if (problem.efforts[set] < found.tried_below) CHECK(asked.contains(set));
    }
  }
  CHECK(cut > 50);
}

TEST_CASE("nothing is bought for a device that stays short, nor for what 1 dB brings") {
  const auto option = [](double chance, double near, VisitEffort effort = {}) {
    return VisitOption{effort, chance, near, chance >= kAsked};
  };
  const std::vector<VisitEffort> efforts{{}, {1, 1, 0}};
  const auto best = [&](VisitOption before, VisitOption after) {
    return visit_choice(
               efforts, kAsked, [&](std::size_t set) { return VisitOptions{{set == 0 ? before : after}}; },
               10)
        .best->set;
  };
  CHECK(best(option(0.2, 0.25), option(0.95, 0.96)) == 1);
  CHECK(best(option(0.2, 0.25), option(0.8, 0.85)) == 0);    // still short
  CHECK(best(option(0.88, 0.885), option(0.9, 0.91)) == 0);  // two points
  CHECK(best(option(0.88, 0.95), option(0.94, 0.97)) == 0);  // 1 dB does it too
  CHECK(best(option(0.85, 0.885), option(0.94, 0.97)) == 1);
}

TEST_CASE("a hub is bought for a device that a repeater leaves weak, not for one that it brings near") {
  const auto chosen = [](double by_repeater) {
    const std::vector<VisitEffort> efforts{{}, {1, 1, 0}, {3, 1, 0}};
    const std::vector<double> chances{0.2, by_repeater, 0.97};
    return visit_choice(
               efforts, kAsked,
               [&](std::size_t set) {
                 const double chance = chances[set];
                 return VisitOptions{{{{}, chance, chance + 0.005, chance >= kAsked}},
                                     {{{}, set == 0 ? 0.3 : 0.95, set == 0 ? 0.35 : 0.96, set > 0}}};
               },
               10)
        .best->set;
  };
  CHECK(chosen(0.86) == 1);  // the second device needs the repeater; the first is left to its reading
  CHECK(chosen(0.6) == 2);
}

TEST_CASE("no set is allowed: there is no choice") {
  const std::vector<VisitEffort> efforts{{}};
  const VisitChoices found = visit_choice(
      efforts, kAsked, [](std::size_t) { return std::optional<VisitOptions>(); }, 10);
  CHECK_FALSE(found.best);
}
