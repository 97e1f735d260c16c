#include "linkmargin/prediction/serving/hub_load.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;

namespace {
HubLoad hub_load(const std::optional<Capacity>& capacity, const std::vector<SlotUser>& users) {
  HubLoad load = empty_load("hub", capacity);
  for (const SlotUser& user : users) load.take(user);
  return load;
}
}  // namespace

TEST_CASE("slots add up against a total") {
  const auto load = hub_load(Capacity{.total = 4, .by_class = {}}, {{"", 1}, {"fobs", 2}});
  CHECK(load.slots_used == 3);
  CHECK(load.capacity == 4);
  CHECK_FALSE(load.over_capacity);
  CHECK(hub_load(Capacity{.total = 4, .by_class = {}}, {{"", 4}, {"", 1}}).over_capacity);
}

TEST_CASE("without a capacity nothing is over it") {
  const auto load = hub_load({}, {{"", 500}});
  CHECK(load.slots_used == 500);
  CHECK_FALSE(load.capacity.has_value());
  CHECK_FALSE(load.over_capacity);
}

TEST_CASE("places by class, the unnamed classes from others") {
  const Capacity capacity{.total = {}, .by_class = {{"fobs", 2}, {"others", 3}}};
  const auto load = hub_load(capacity, {{"fobs", 1}, {"sirens", 2}, {"", 1}});
  REQUIRE(load.classes.size() == 2);
  CHECK(load.classes[0].device_class == "fobs");
  CHECK(load.classes[0].slots_used == 1);
  CHECK(load.classes[1].slots_used == 3);
  CHECK(load.capacity == 5);
  CHECK_FALSE(load.over_capacity);
  // Full in one class is over, though places are left in the other.
  CHECK(hub_load(capacity, {{"fobs", 3}}).over_capacity);
}

TEST_CASE("a hub with its last slot taken is full, not over-full") {
  CHECK_FALSE(hub_load(Capacity{.total = 4, .by_class = {}}, {{"", 4}}).over_capacity);
  CHECK_FALSE(hub_load(Capacity{.total = 0, .by_class = {}}, {}).over_capacity);
  const Capacity capacity{.total = {}, .by_class = {{"fobs", 2}, {"others", 3}}};
  CHECK_FALSE(hub_load(capacity, {{"fobs", 2}, {"", 3}}).over_capacity);
}

TEST_CASE("a user has room in its own class, whatever the others have used") {
  const Capacity capacity{.total = {}, .by_class = {{"fobs", 2}, {"others", 3}}};
  const auto load = hub_load(capacity, {{"fobs", 3}, {"sirens", 2}});
  CHECK_FALSE(load.has_room({"fobs", 1}));
  CHECK(load.has_room({"keypads", 1}));
  CHECK_FALSE(load.has_room({"keypads", 2}));
  CHECK(hub_load(Capacity{.total = 4, .by_class = {}}, {{"", 3}}).has_room({"", 1}));
  CHECK_FALSE(hub_load(Capacity{.total = 4, .by_class = {}}, {{"", 3}}).has_room({"", 2}));
  CHECK(hub_load({}, {{"", 500}}).has_room({"", 500}));
  CHECK_FALSE(hub_load(Capacity{.total = {}, .by_class = {{"fobs", 2}}}, {}).has_room({"sirens", 1}));
}
