#include "linkmargin/prediction/serving/hub_load.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;

namespace {
Hub hub_with(std::optional<Capacity> capacity) {
  return {.name = "hub",
          .profile = "hub",
          .place = {},
          .capacity = std::move(capacity),
          .may_move = {},
          .near_mains_m = {}};
}
}  // namespace

TEST_CASE("slots add up against a total") {
  const auto load = hub_load(hub_with(Capacity{.total = 4, .by_class = {}}), {{"", 1}, {"fobs", 2}});
  CHECK(load.slots_used == 3);
  CHECK(load.capacity == 4);
  CHECK_FALSE(load.over_capacity);
  CHECK(hub_load(hub_with(Capacity{.total = 4, .by_class = {}}), {{"", 4}, {"", 1}}).over_capacity);
}

TEST_CASE("without a capacity nothing is over it") {
  const auto load = hub_load(hub_with({}), {{"", 500}});
  CHECK(load.slots_used == 500);
  CHECK_FALSE(load.capacity.has_value());
  CHECK_FALSE(load.over_capacity);
}

TEST_CASE("places by class, the unnamed classes from others") {
  const Capacity capacity{.total = {}, .by_class = {{"fobs", 2}, {"others", 3}}};
  const auto load = hub_load(hub_with(capacity), {{"fobs", 1}, {"sirens", 2}, {"", 1}});
  REQUIRE(load.classes.size() == 2);
  CHECK(load.classes[0].device_class == "fobs");
  CHECK(load.classes[0].slots_used == 1);
  CHECK(load.classes[1].slots_used == 3);
  CHECK(load.capacity == 5);
  CHECK_FALSE(load.over_capacity);
  // Full in one class is over, though places are left in the other.
  CHECK(hub_load(hub_with(capacity), {{"fobs", 3}}).over_capacity);
}

TEST_CASE("a hub with its last slot taken is full, not over-full") {
  CHECK_FALSE(hub_load(hub_with(Capacity{.total = 4, .by_class = {}}), {{"", 4}}).over_capacity);
  CHECK_FALSE(hub_load(hub_with(Capacity{.total = 0, .by_class = {}}), {}).over_capacity);
  const Capacity capacity{.total = {}, .by_class = {{"fobs", 2}, {"others", 3}}};
  CHECK_FALSE(hub_load(hub_with(capacity), {{"fobs", 2}, {"", 3}}).over_capacity);
}
