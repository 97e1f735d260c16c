// Prints random problems of places and what the library finds, a JSON object a line, for placement_milp.py.

#include "linkmargin/analysis/placement/solver/placement_solver.hpp"

#include "analysis/placement/placement_enumeration.hpp"

#include <cstdio>

using namespace linkmargin;

namespace {

void print_slots(const std::optional<Capacity>& slots) {
  if (!slots) {
    std::printf("null");
    return;
  }
  std::printf("{\"total\": %d, \"by_class\": {", slots->total.value_or(-1));
  const char* between = "";
  for (const auto& [device_class, count] : slots->by_class) {
    std::printf("%s\"%s\": %d", between, device_class.c_str(), count);
    between = ", ";
  }
  std::printf("}}");
}

void print_group(const PlacementProblem& problem, std::uint32_t g) {
  const PlacementGroup& group = problem.groups[g];
  std::printf("{\"repeater\": %s, \"count\": %d, \"places\": %zu, \"class\": \"%s\", \"slots\": ",
              group.repeater ? "true" : "false", group.count, group.places, group.device_class.c_str());
  print_slots(group.slots);
  std::printf(", \"chances\": [");
  for (std::size_t i = 0; i < problem.items.size(); ++i) {
    std::printf("%s[", i == 0 ? "" : ", ");
    for (std::uint32_t p = 0; p < group.places; ++p)
      std::printf("%s%.9g", p == 0 ? "" : ", ", static_cast<double>(problem.chance(i, {g, p})));
    std::printf("]");
  }
  std::printf("]}");
}

void print_problem(std::uint64_t seed, const PlacementProblem& problem) {
  std::printf("{\"seed\": %d, \"items\": [", static_cast<int>(seed));
  for (std::size_t i = 0; i < problem.items.size(); ++i) {
    const PlacementItem& item = problem.items[i];
    std::printf("%s{\"slots\": %d, \"class\": \"%s\", \"hub\": ", i == 0 ? "" : ", ", item.slots,
                item.device_class.c_str());
    item.hub ? std::printf("%d}", static_cast<int>(*item.hub)) : std::printf("null}");
  }
  std::printf("], \"groups\": [");
  for (std::uint32_t g = 0; g < problem.groups.size(); ++g) {
    std::printf("%s", g == 0 ? "" : ", ");
    print_group(problem, g);
  }
  std::printf("], \"hops\": [");
  const auto places = static_cast<std::uint32_t>(problem.groups[0].places);
  for (std::uint32_t from = 0; from < places; ++from) {
    std::printf("%s[", from == 0 ? "" : ", ");
    for (std::uint32_t to = 0; to < places; ++to)
      std::printf("%s%.9g", to == 0 ? "" : ", ", static_cast<double>(problem.hop({0, from}, {0, to})));
    std::printf("]");
  }
  const PlacementSolution found = solve_placement(problem);
  if (found.best.exists()) {
    std::printf("], \"found\": {\"worst\": %.9g, \"sum\": %.12g}}\n", static_cast<double>(found.best.worst),
                found.best.sum);
  } else {
    std::printf("], \"found\": null}\n");
  }
}

}  // namespace

int main() {
  int printed = 0;
  for (std::uint64_t seed = 1; printed < 40; ++seed) {
    const PlacementProblem problem = enumeration::random_problem(seed);
    int repeaters = 0;
    for (const PlacementGroup& group : problem.groups) repeaters += group.repeater ? group.count : 0;
    if (repeaters > 1 || problem.groups[0].places > 14) continue;  // one hop, and soon solved
    print_problem(seed, problem);
    ++printed;
  }
}
