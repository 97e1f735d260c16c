#include "linkmargin/analysis/visit/visit_walk.hpp"

#include "linkmargin/site/validation/checks.hpp"

#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <numeric>

using namespace linkmargin;

namespace {

double way_m(const Site& site, const Placement& start, const std::vector<Placement>& places,
             const std::vector<std::size_t>& order) {
  double sum_m = 0;
  Placement from = start;
  for (const std::size_t stop : order) {
    const Placement& to = places[stop];
    const bool same = checks::room_at(site.storeys[from.storey], from.at) ==
                      checks::room_at(site.storeys[to.storey], to.at);
    const double storeys = from.storey > to.storey ? static_cast<double>(from.storey - to.storey)
                                                   : static_cast<double>(to.storey - from.storey);
    sum_m += distance(from.at, to.at) + (same ? 0 : kOtherRoomM) + kOtherStoreyM * storeys;
    from = to;
  }
  return sum_m;
}

}  // namespace

TEST_CASE("a walk makes every stop once, in the order asked for, and is near the shortest") {
  double walked_m = 0, shortest_m = 0;
  for (std::uint64_t seed = 1; seed <= 200; ++seed) {
    CAPTURE(seed);
    const Site site = fixture::random_block(seed, 2, 3, 2);
    const RandomStream random(seed, 9);
    std::uint64_t draw = 0;
    const auto place = [&] {
      const std::size_t storey = random.uniform(draw++) < 0.5 ? 0 : 1;
      const double x = 9 * random.uniform(draw++), y = 8 * random.uniform(draw++);
      return Placement{storey, snapped({x, y}), 1};
    };
    const Placement start = place();
    std::vector<Placement> places;
    for (int i = 0; i < 6; ++i) places.push_back(place());
    std::vector<std::vector<std::size_t>> after(places.size());
    if (seed % 2 == 0) {
      for (std::size_t i = 2; i < places.size(); i += 2) after[i] = {0};
      after[5] = {1};
    }
    const auto keeps = [&](const std::vector<std::size_t>& order) {
      const auto at = [&](std::size_t stop) { return std::ranges::find(order, stop) - order.begin(); };
      for (std::size_t i = 0; i < after.size(); ++i) {
        if (std::ranges::any_of(after[i], [&](std::size_t before) { return at(before) > at(i); }))
          return false;
      }
      return true;
    };
    const std::vector<std::size_t> order = walk_order(site, start, places, after);
    std::vector<std::size_t> any(places.size());
    std::iota(any.begin(), any.end(), std::size_t{0});
    CHECK(std::ranges::is_permutation(order, any));
    CHECK(keeps(order));
    double least_m = way_m(site, start, places, order);
    walked_m += least_m;
    do {
      if (keeps(any)) least_m = std::min(least_m, way_m(site, start, places, any));
    } while (std::ranges::next_permutation(any).found);
    shortest_m += least_m;
  }
  MESSAGE("walked " << walked_m << " m, shortest " << shortest_m << " m");
  CHECK(walked_m <= 1.1 * shortest_m);
}

TEST_CASE("no stops make no walk") {
  CHECK(walk_order(fixture::two_rooms(), {0, {1, 1}, 1}, {}, {}).empty());
}
