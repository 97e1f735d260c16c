#include "linkmargin/link/mechanism/corner_index.hpp"

#include "linkmargin/base/random.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace linkmargin;

TEST_CASE("every edge by which a way is short enough is found, and few others") {
  const RandomStream random(5, 0xC0);
  std::uint64_t draw = 0;
  const auto place = [&] { return Point2{60 * random.uniform(draw++), 60 * random.uniform(draw++)}; };
  std::vector<UprightEdge> edges;
  for (int i = 0; i < 700; ++i) edges.push_back({place(), 0, 2.7});
  const CornerIndex index(edges);
  std::vector<std::uint32_t> found;
  std::size_t met = 0, given = 0;
  for (int i = 0; i < 1000; ++i) {
    const Segment2 plan{place(), place()};
    const double plan_m = length(plan), rise_m = 2 * random.uniform(draw++);
    const double straight_m = std::hypot(plan_m, rise_m), way_m = straight_m + 0.5 * random.uniform(draw++);
    index.near({plan, straight_m, 0.2, 0.2 + rise_m}, way_m, found);
    CHECK(std::ranges::is_sorted(found));
    given += found.size();
    const Point2 along = (1 / plan_m) * (plan.b - plan.a);
    for (std::uint32_t k = 0; k < edges.size(); ++k) {
      const double at = dot(edges[k].at - plan.a, along) / plan_m;
      if (at <= 0 || at >= 1) continue;
      const double across_m = cross(along, edges[k].at - plan.a);
      const double by_m = std::hypot(at * straight_m, across_m) + std::hypot((1 - at) * straight_m, across_m);
      if (by_m > way_m) continue;
      ++met;
      CHECK(std::ranges::binary_search(found, k));
    }
  }
  CHECK(given <= met + met / 10 + 1000);
}

TEST_CASE("edges over and under a line are passed over by the run") {
  const std::vector<UprightEdge> edges(3, {{5, 0.1}, 0, 2.7});
  const CornerIndex index(edges);
  std::vector<std::uint32_t> found;
  index.near({{{0, 0}, {10, 0}}, 10, 1, 1}, 10.1, found);
  CHECK(found.size() == 3);
  index.near({{{0, 0}, {10, 0}}, 10, 3, 3}, 10.1, found);
  CHECK(found.empty());
  CornerIndex().near({{{0, 0}, {10, 0}}, 10, 1, 1}, 10.1, found);
  CHECK(found.empty());
}
