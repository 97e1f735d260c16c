#include "linkmargin/analysis/placement/solver/placement_solver.hpp"

#include "analysis/placement/placement_enumeration.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace linkmargin;

namespace {

/// Says of a layout what its own routes say, so that the figures and the routes cannot part.
void check_routes(const PlacementProblem& problem, const PlacementLayout& layout) {
  REQUIRE(layout.routes.size() == problem.items.size());
  float worst = 1;
  double sum = 0;
  std::vector<std::vector<std::pair<std::string, int>>> tenants(layout.parts.size());
  std::vector<std::size_t> next(layout.parts.size(), 1000);
  for (std::size_t i = 0; i < layout.routes.size(); ++i) {
    const PlacementRoute& route = layout.routes[i];
    float chance = route.via.empty() ? problem.chance(i, layout.parts[route.hub])
                                     : problem.chance(i, layout.parts[route.via[0]]);
    float onward = 1;  // in the order in which the search multiplies
    for (std::size_t hop = 0; hop < route.via.size(); ++hop) {
      const std::uint32_t to = hop + 1 < route.via.size() ? route.via[hop + 1] : route.hub;
      onward *= problem.hop(layout.parts[route.via[hop]], layout.parts[to]);
      CHECK((next[route.via[hop]] == 1000 || next[route.via[hop]] == to));
      if (next[route.via[hop]] == 1000) {
        const std::string& device_class = problem.groups[layout.parts[route.via[hop]].group].device_class;
        tenants[route.hub].emplace_back(device_class, 1);
        if (to != route.hub) tenants[to].emplace_back(device_class, 1);
      }
      next[route.via[hop]] = to;
    }
    chance *= onward;
    CHECK(chance == route.chance);
    if (problem.items[i].hub) CHECK(layout.parts[route.hub].group == *problem.items[i].hub);
    tenants[route.hub].emplace_back(problem.items[i].device_class, problem.items[i].slots);
    if (!route.via.empty())
      tenants[route.via[0]].emplace_back(problem.items[i].device_class, problem.items[i].slots);
    worst = std::min(worst, chance);
    sum += static_cast<double>(chance);
  }
  CHECK(std::min(worst, problem.target_probability) == layout.worst);
  CHECK(worst == least_chance(layout));
  CHECK(std::abs(sum - layout.sum) <= 1e-9);
  for (std::size_t part = 0; part < layout.parts.size(); ++part) {
    CHECK(enumeration::holds(problem.groups[layout.parts[part].group].slots, tenants[part]));
  }
}

}  // namespace

TEST_CASE("the sum alone, or once the least chance is enough: what full enumeration finds") {
  int sum_decides = 0;
  int by_sum_alone = 0;
  for (std::uint64_t seed = 1; seed <= 240; ++seed) {
    for (const float target_probability : {0.0F, 0.35F, 0.7F}) {
      CAPTURE(seed);
      CAPTURE(target_probability);
      PlacementProblem problem = enumeration::random_problem(seed);
      const float first = solve_placement(problem).best.worst;
      problem.target_probability = target_probability;
      const enumeration::Best best = enumeration::Enumeration(problem).run();
      const PlacementSolution found = solve_placement(problem);
      if (best.worst < 0) {
        CHECK(found.status == PlacementStatus::infeasible);
        CHECK(found.missing_slots == best.missing);
        continue;
      }
      REQUIRE(found.status == PlacementStatus::optimal);
      CHECK(found.best.worst == best.worst);
      CHECK(std::abs(found.best.sum - best.sum) <= 1e-9);
      CHECK(found.best.parts.size() == best.parts);
      check_routes(problem, found.best);
      sum_decides += first > target_probability ? 1 : 0;
      by_sum_alone += target_probability == 0 && least_chance(found.best) < first ? 1 : 0;
    }
  }
  CHECK(sum_decides > 100);
  CHECK(by_sum_alone > 20);
}

TEST_CASE("800 random problems: what full enumeration finds, and what is missing where nothing can be") {
  int infeasible = 0;
  int with_repeater = 0;
  int two_hops = 0;
  int shifted = 0;
  for (std::uint64_t seed = 1; seed <= 800; ++seed) {
    CAPTURE(seed);
    const PlacementProblem problem = enumeration::random_problem(seed);
    const enumeration::Best best = enumeration::Enumeration(problem).run();
    const PlacementSolution found = solve_placement(problem);
    if (best.worst < 0) {
      ++infeasible;
      CHECK(found.status == PlacementStatus::infeasible);
      CHECK(found.missing_slots == best.missing);
      CHECK(best.missing > 0);
      continue;
    }
    REQUIRE(found.status == PlacementStatus::optimal);
    CHECK(found.best.worst == best.worst);
    CHECK(std::abs(found.best.sum - best.sum) <= 1e-9);
    CHECK(found.best.parts.size() == best.parts);
    check_routes(problem, found.best);
    bool repeats = false;
    for (std::size_t i = 0; i < problem.items.size(); ++i) {
      const PlacementRoute& route = found.best.routes[i];
      repeats = repeats || !route.via.empty();
      two_hops += route.via.size() == 2 ? 1 : 0;
      float greatest = 0;
      for (const PlacementPart part : found.best.parts) {
        if (!problem.groups[part.group].repeater) greatest = std::max(greatest, problem.chance(i, part));
      }
      shifted += route.chance < greatest ? 1 : 0;
    }
    with_repeater += repeats ? 1 : 0;
  }
  MESSAGE("infeasible " << infeasible << ", by a repeater " << with_repeater << ", items over two hops "
                        << two_hops << ", items kept from their best hub " << shifted);
  CHECK(infeasible >= 30);
  CHECK(with_repeater >= 50);
  CHECK(two_hops >= 5);
  CHECK(shifted >= 20);
}

TEST_CASE("work that is used up leaves a layout and a bound that holds") {
  int bounded = 0;
  for (std::uint64_t seed = 1; seed <= 200; ++seed) {
    CAPTURE(seed);
    const PlacementProblem problem = enumeration::random_problem(seed);
    const PlacementSolution whole = solve_placement(problem);
    const PlacementSolution part = solve_placement(problem, {.work = 300, .stop = {}});
    if (whole.status == PlacementStatus::infeasible) continue;
    REQUIRE(part.best.exists());
    check_routes(problem, part.best);
    CHECK(!better(part.best, whole.best));
    CHECK(part.worst_bound >= whole.best.worst);
    if (part.best.worst == part.worst_bound) CHECK(part.sum_bound >= whole.best.sum - 1e-9);
    bounded += part.status == PlacementStatus::bounded ? 1 : 0;
  }
  CHECK(bounded >= 20);
}

TEST_CASE("told to stop, it gives the best so far") {
  const PlacementProblem problem = enumeration::random_problem(3);
  const PlacementSolution found = solve_placement(problem, {.work = 1'000'000, .stop = [] { return true; }});
  CHECK(found.status == PlacementStatus::stopped);
  REQUIRE(found.best.exists());
  check_routes(problem, found.best);
}

TEST_CASE("more parts than can be placed at once are refused") {
  PlacementProblem problem = enumeration::random_problem(3);
  problem.groups[0].count = kMostPlacedHubs + 1;
  CHECK_THROWS_AS(solve_placement(problem), DomainError);
}
